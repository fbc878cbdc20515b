import { expect, test } from "vitest"
import { jackknifedCovariance, jointTest } from "../../core/stats/inference/jointTest.ts"
import { fromColumns } from "../../core/stats/matrix/matrix.ts"

// R 4.2.2, data set attitude (Chatterjee & Price 1977): rating less complaints, less raises and less learning, of 30 departments.
// anova(lm(d ~ 1), test = "Hotelling"): F 9.6573127130991 on 3 and 27, p 0.000168101392804032.
const differences = [
  [-8, -18, 4],
  [-1, 0, 9],
  [1, -5, 2],
  [-2, 7, 14],
  [3, 10, 15],
  [-12, -11, -1],
  [-9, -8, 2],
  [-4, 1, 16],
  [-10, 1, 5],
  [6, 5, 20],
  [11, 6, 6],
  [7, 8, 28],
  [7, 14, 27],
  [-15, 9, 23],
  [0, -2, 5],
  [-9, 21, 9],
  [-11, -5, 5],
  [5, 10, -10],
  [-5, -10, 8],
  [-8, -14, -4],
  [10, 7, 16],
  [3, -2, 2],
  [-13, -10, 3],
  [3, -10, -18],
  [9, -3, 15],
  [-11, -22, 3],
  [3, -2, 4],
  [-9, -3, 3],
  [0, 8, 14],
  [0, 18, 23],
]
const n = differences.length
const means = [0, 1, 2].map((j) => differences.reduce((sum, row) => sum + (row[j] ?? 0), 0) / n)
/** What leaving out each row changes in the means: their jackknife covariance is the usual one over n. */
const changes = fromColumns(
  means.map((mean, j) => Float64Array.from(differences, (row) => (mean - (row[j] ?? 0)) / (n - 1))),
  n,
)
const unit = [0, 1, 2].map((j) => Float64Array.from([0, 1, 2], (k) => (k === j ? 1 : 0)))

test("several means are tested together as R's Hotelling test does", () => {
  const found = jointTest(Float64Array.from(means), jackknifedCovariance(unit, changes, n), n - 1)
  expect(found?.columns).toBe(3)
  expect(found?.df).toBe(27)
  // printed with 14 digits
  expect(found?.f).toBeCloseTo(9.6573127130991, 11)
  expect(found?.p).toBeCloseTo(0.000168101392804032, 15)
})

test("one mean is tested as by t, and nothing is tested where no degree of freedom or no spread is left", () => {
  const one = Float64Array.of(means[2] ?? 0)
  // R: t.test(d[, 3])$p.value
  expect(jointTest(one, jackknifedCovariance([unit[2] ?? one], changes, n), n - 1)?.p).toBeCloseTo(
    0.000148340555456251,
    15,
  )
  expect(jointTest(Float64Array.from(means), jackknifedCovariance(unit, changes, n), 2)).toBeNull()
  const still = fromColumns([new Float64Array(n)], n)
  expect(jointTest(one, jackknifedCovariance([Float64Array.of(1)], still, n), n - 1)).toBeNull()
})

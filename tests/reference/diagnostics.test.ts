// What a fitted model is held against: counts seen and expected, shares seen and fitted.
import { expect, test } from "vitest"
import { binnedResiduals } from "../../core/stats/describe/binnedResiduals.ts"
import { rootogram } from "../../core/stats/describe/rootogram.ts"
import { negativeBinomialLogPmf } from "../../core/stats/distributions/negativeBinomial.ts"

// Bortkiewicz (1898) Das Gesetz der kleinen Zahlen: deaths by horse kick in 200 corps-years, mean 0.61; the expected numbers are
// those of the textbooks (from memory), rounded to one decimal.
test("the horse kicks of the Prussian army are Poisson", () => {
  const seen = [109, 65, 22, 3, 1]
  const y = Float64Array.from(seen.flatMap((times, count) => Array.from({ length: times }, () => count)))
  const eta = new Float64Array(200).fill(Math.log(0.61))
  const counts = rootogram(y, eta, { sd: 0, theta: Infinity })
  expect(counts.map(({ observed }) => observed)).toEqual(seen)
  expect(counts.map(({ expected }) => Number(expected.toFixed(1)))).toEqual([108.7, 66.3, 20.2, 4.1, 0.7])
})

test("counts expected are those of the negative binomial, and with intercepts integrated keep the mean", () => {
  const eta = Float64Array.of(Math.log(0.4), Math.log(2))
  const y = Float64Array.of(0, 60)
  const plain = rootogram(y, eta, { sd: 0, theta: 1.3 }, 60)
  for (const { count, expected } of plain.slice(0, 8)) {
    const wanted = [0.4, 2].reduce((sum, mu) => sum + Math.exp(negativeBinomialLogPmf(count, 1.3, mu)), 0)
    expect(Math.abs(expected / wanted - 1)).toBeLessThan(1e-9)
  }
  const spread = rootogram(y, eta, { sd: 0.5, theta: 1.3 }, 60)
  const all = spread.reduce((sum, { expected }) => sum + expected, 0)
  const mean = spread.reduce((sum, { count, expected }) => sum + count * expected, 0)
  expect(all).toBeCloseTo(2, 9)
  // E exp(u) = exp(sd^2/2); what lies above 60 is left out
  expect(mean).toBeCloseTo(2.4 * Math.exp(0.125), 3)
})

test("bins hold about as many trials each, and the shares of their own rows", () => {
  const n = 100
  const fitted = Float64Array.from({ length: n }, (_, i) => (i + 0.5) / n)
  const trials = new Float64Array(n).fill(2)
  const bins = binnedResiduals(
    fitted.map((p) => (p > 0.5 ? 2 : 0)),
    trials,
    fitted,
  )
  expect(bins.map((bin) => bin.trials)).toEqual(Array.from({ length: 10 }, () => 20))
  expect(bins[0]?.fitted).toBeCloseTo(0.05, 9)
  expect(bins.map(({ observed }) => observed)).toEqual([0, 0, 0, 0, 0, 1, 1, 1, 1, 1])
  // 20 trials at about 0.45: two standard errors
  expect(bins[4]?.reach).toBeCloseTo(2 * Math.sqrt((0.45 * 0.55) / 20), 2)
})

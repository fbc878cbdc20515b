// The bound of a level without an event, within strata and beside a fit of the others.
import { expect, test } from "vitest"
import { NO_EVENT_BOUND } from "../../core/stats/confidence.ts"
import { emptyLevelBound, emptyLevelBoundBeside } from "../../core/stats/inference/emptyLevel.ts"
import { withoutColumn } from "../../core/stats/inference/profileInterval.ts"
import { clusteredRowsAt } from "../../core/stats/likelihood/rows.ts"
import { fromColumns } from "../../core/stats/matrix/matrix.ts"
import { fitMixed } from "../../core/stats/mixed/fitMixed.ts"
import { positionsWhere } from "../../core/stats/positions.ts"
import { negativeBinomial, normal, poisson, stream } from "../../core/stats/random.ts"
import { emptyWithinBound, emptyWithinCut } from "../../core/stats/strata/emptyWithin.ts"

/** Strata, one row of each of two levels in each: events and exposures of the level that has events, and of the other. */
const pairs = (strata: readonly { y: number; h: number; emptyH: number }[]) => ({
  x: fromColumns([Float64Array.from(strata.flatMap(() => [0, 1]))], 2 * strata.length),
  y: Float64Array.from(strata.flatMap(({ y }) => [y, 0])),
  offset: Float64Array.from(strata.flatMap(({ h, emptyH }) => [Math.log(h), Math.log(emptyH)])),
  cluster: Int32Array.from(strata.flatMap((_, s) => [s, s])),
  clusters: strata.length,
})

// Given the total, the events of one of two Poisson streams are binomial; Clopper & Pearson (1934) Biometrika 26:404-413: the
// upper 97.5% limit of a share with 0 of n is p = 1 - 0.025^(1/n), and the ratio of the streams p/(1 - p) times the exposures'.
test.each([
  [3, 4, 1, 1],
  [1, 2, 1, 1],
  [3, 4, 1, 2],
])("two strata with %d and %d events bound the ratio as Clopper and Pearson do", (y1, y2, h, emptyH) => {
  const n = y1 + y2
  const share = 1 - 0.025 ** (1 / n)
  const rows = pairs([
    { y: y1, h, emptyH },
    { y: y2, h, emptyH },
  ])
  const bound = emptyWithinBound(rows, 0, 2 * NO_EVENT_BOUND)
  expect(Math.exp(bound ?? NaN)).toBeCloseTo(((share / (1 - share)) * h) / emptyH, 6)
  // twice the clumping is half the events: 0 of n/2
  const clumped = 1 - 0.025 ** (2 / n)
  expect(Math.exp(emptyWithinBound(rows, 0, emptyWithinCut(1e6, 2)) ?? NaN)).toBeCloseTo(
    ((clumped / (1 - clumped)) * h) / emptyH,
    6,
  )
})

// Clumped counts within strata that differ: a level's true ratio lies above the bound in no more than 2.5% of logbooks, allowing
// for the Monte Carlo error of 1,500 (0.4 points).
test("the bound within strata holds the truth", () => {
  const random = stream(11, "empty within")
  const [logbooks, strata, theta] = [1500, 12, 3]
  for (const expected of [2, 3, 4]) {
    let missed = 0
    for (let k = 0; k < logbooks; k++) {
      const drawn = Array.from({ length: strata }, () => {
        const mean = 1.5 * Math.exp(0.6 * normal(random))
        return {
          y: negativeBinomial(random, mean, theta),
          empty: poisson(random, (expected / strata) * (mean / (1.5 * Math.exp(0.18)))),
        }
      })
      const ratio = expected / strata / (1.5 * Math.exp(0.18))
      if (drawn.some(({ empty }) => empty > 0)) continue
      const held = drawn.filter(({ y }) => y > 0)
      if (held.length < 2) continue
      const rows = pairs(held.map(({ y }) => ({ y, h: 1, emptyH: 1 })))
      const bound = emptyWithinBound(rows, 0, emptyWithinCut(held.length - 1, 1))
      if (Math.exp(bound ?? NaN) < ratio) missed++
    }
    expect(missed / logbooks).toBeLessThan(0.025 + 2 * Math.sqrt((0.025 * 0.975) / logbooks))
  }
})

test("beside a fit of the others a bound errs wide, by little", () => {
  const random = stream(5, "empty beside")
  const [clusters, size] = [150, 6]
  const n = clusters * size
  const cluster = Int32Array.from({ length: n }, (_, i) => Math.floor(i / size))
  const intercepts = Array.from({ length: clusters }, () => 0.7 * normal(random))
  const empty = Float64Array.from({ length: n }, (_, i) => (i % 40 === 0 ? 1 : 0))
  const second = Float64Array.from({ length: n }, (_, i) => (i % 2 === 1 ? 1 : 0))
  const line = Float64Array.from({ length: n }, () => normal(random))
  const y = Float64Array.from({ length: n }, (_, i) =>
    empty[i] === 1
      ? 0
      : negativeBinomial(
          random,
          0.6 * Math.exp((intercepts[cluster[i] ?? 0] ?? 0) + 0.2 * (line[i] ?? 0) + 0.4 * (second[i] ?? 0)),
          2,
        ),
  )
  const x = fromColumns([new Float64Array(n).fill(1), second, empty, line], n)
  const rows = { x, y, offset: new Float64Array(n), cluster, clusters }
  const others = clusteredRowsAt(
    { ...rows, x: withoutColumn(x, 2) },
    positionsWhere(n, (i) => empty[i] === 0),
  )
  const rest = fitMixed(others, "negative binomial", { nodes: 15 })
  if (rest.kind === "separated" || rest.kind === "not fitted") throw new Error("The others were not fitted.")
  const given = { df: clusters - 1, nodes: 15 }
  const full = emptyLevelBound(rows, 2, "negative binomial", given)?.bound ?? NaN
  const beside = emptyLevelBoundBeside(rows, 2, -1, rest, given) ?? NaN
  expect(beside).toBeGreaterThan(full)
  expect(Math.exp(beside - full)).toBeLessThan(1.6)
  // over another level the reference moves with that level's own coefficient
  const overSecond = emptyLevelBoundBeside(rows, 2, 1, rest, given) ?? NaN
  expect(Math.abs(overSecond + (rest.coefficients[1] ?? 0) - beside)).toBeLessThan(0.1)
})

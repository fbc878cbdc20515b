// Planned numbers against drawn logbooks. The variance of a log ratio of sums from one cluster an arm must be that of the plan
// within 10% (Monte Carlo error 4.5% at 1,000 drawn ratios; the formula drops terms of the order of 1/clusters), and the
// planned clusters must then give the promised power of 0.8 within 0.05 (Monte Carlo error 0.013).
import { expect, test } from "vitest"
import { TAIL } from "../../core/stats/confidence.ts"
import { normalQuantile } from "../../core/stats/distributions/normal.ts"
import { type Plan, clustersNeeded } from "../../core/stats/planning/clustersNeeded.ts"
import { pairsNeeded } from "../../core/stats/planning/pairsNeeded.ts"
import { type Random, negativeBinomial, normal, stream } from "../../core/stats/random.ts"
import { crossings } from "./trials.ts"

const SEED = 20_260_501

/** log ratio of the sums of counts of two arms over so many clusters an arm, or clusters of both arms. */
function drawLogRatio(plan: Plan, clusters: number, random: Random): number {
  const { rate, ratio, exposure, units, theta, sd, basis } = plan
  const spread = (): number => Math.exp(sd * normal(random) - sd ** 2 / 2)
  const count = (mean: number): number => {
    let sum = 0
    for (let unit = 0; unit < units; unit++) sum += negativeBinomial(random, mean / units, theta)
    return sum
  }
  let [more, less] = [0, 0]
  for (let cluster = 0; cluster < clusters; cluster++) {
    const first = spread()
    const second = basis === "within" ? first : spread()
    more += count(rate * ratio * exposure * first)
    less += count(rate * exposure * second)
  }
  return Math.log(more / less)
}

const plan = { rate: 0.6, ratio: 1.5, exposure: 2, units: 3, theta: 1.5, sd: 0.8 }

test.each(["raw", "within"] as const)("the variance and the power a plan promises: %s", (basis) => {
  const random = stream(SEED, `plan ${basis}`)
  const { variance, clusters } = clustersNeeded({ ...plan, basis })
  const whole = Math.ceil(clusters)
  const logs = Float64Array.from({ length: 1000 }, () => drawLogRatio({ ...plan, basis }, whole, random))
  const mean = logs.reduce((sum, log) => sum + log, 0) / logs.length
  const drawn = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / (logs.length - 1)
  expect(drawn * whole).toBeGreaterThan(0.9 * variance)
  expect(drawn * whole).toBeLessThan(1.1 * variance)
  const cut = normalQuantile(1 - TAIL) * Math.sqrt(drawn)
  const told = logs.filter((log) => log > cut).length / logs.length
  expect(told).toBeGreaterThan(0.75)
  expect(told).toBeLessThan(0.85)
})

// The planned pairs against drawn trials: the share of 600 trials with enough evidence by then must be the one promised within
// 0.07 (Monte Carlo error 0.02; the plan's factors are rounded averages over settings).
test.each([
  { gain: 2, theta: 2, spread: 0.8 },
  { gain: 1.7, theta: 5, spread: 0.4 },
])("pairs a trial needs: gain $gain, theta $theta, spread $spread", ({ gain, theta, spread }) => {
  const first = 1.2
  const plan = pairsNeeded({ meanA: gain * first, meanB: first, theta, sd: spread })
  const pairs = Math.ceil(plan.fourInFive)
  const trials = { pairs, first, second: 1, spread, theta, gain, givingUp: 0 }
  const { firstCrossing } = crossings(trials, 600, stream(SEED, `pairs ${gain}`))
  const reachedBy = (limit: number): number => firstCrossing.filter((at) => at <= limit).length / 600
  expect(Math.abs(reachedBy(plan.median) - 0.5)).toBeLessThan(0.07)
  expect(Math.abs(reachedBy(pairs) - 0.8)).toBeLessThan(0.07)
})

// How often the evidence of a trial misleads, and how often it tells. Under no difference it may reach 20 in at most 1 of 20
// trials (Ville 1939), so the share may pass 0.05 by no more than three Monte Carlo errors. Other figures are compared with
// those of cases/stats, drawn by R with another generator, within the case's own tolerance.
import { expect, test } from "vitest"
import { z } from "zod"
import { confidenceSequence } from "../../core/stats/evidence/confidenceSequence.ts"
import { negativeBinomial, normal, stream } from "../../core/stats/random.ts"
import { difference, loadCase, number } from "../reference/case.ts"
import { type Trials, crossings } from "./trials.ts"

const COUNT = 1000
const SEED = 20_260_501
const atMost = 0.05 + 3 * Math.sqrt((0.05 * 0.95) / COUNT)

const ordinary: Trials = { pairs: 80, first: 1.2, second: 0.7, spread: 0.8, theta: 2, gain: 1, givingUp: 0 }

const { expected, tolerance } = loadCase(
  "stats/17-e-process-coin-error-rate.json",
  z.object({ trials: number, pairs: number }),
  z.object({
    no_difference_abandoned_pairs_completed: number,
    no_difference_abandoned_pairs_dropped: number,
    abandoned_share: number,
    no_difference_no_abandoning: number,
    doubled_rate_no_abandoning: number,
    doubled_rate_abandoned_pairs_completed: number,
    abandoned_share_doubled_rate: number,
  }),
)

test("without a difference the evidence reaches 20 no more often than it promises", () => {
  const got = crossings(ordinary, COUNT, stream(SEED, "no difference"))
  expect(got.completed).toBeLessThanOrEqual(atMost)
  expect(difference(got.completed, expected.no_difference_no_abandoning, tolerance, "reached")).toBeNull()
})

test.each<{ name: string; trials: Trials }>([
  { name: "a first block four times as rich", trials: { ...ordinary, second: 0.25 } },
  { name: "heavy clumping", trials: { ...ordinary, theta: 0.3 } },
  { name: "great spread between spots, long trials", trials: { ...ordinary, spread: 1.5, pairs: 200 } },
  { name: "rich blocks, mostly beyond the cap", trials: { ...ordinary, first: 6 } },
])("nor with $name", ({ name, trials }) => {
  expect(crossings(trials, COUNT, stream(SEED, name)).completed).toBeLessThanOrEqual(atMost)
})

test("pairs given up by someone who favours an arm are harmless completed, and would not be if dropped", () => {
  const got = crossings({ ...ordinary, givingUp: 0.5 }, COUNT, stream(SEED, "given up"))
  const wanted = expected.no_difference_abandoned_pairs_completed
  expect(difference(got.completed, wanted, tolerance, "completed")).toBeNull()
  expect(
    difference(got.dropped, expected.no_difference_abandoned_pairs_dropped, tolerance, "dropped"),
  ).toBeNull()
  expect(got.completed).toBeLessThanOrEqual(atMost)
  expect(got.dropped).toBeGreaterThan(0.1)
  expect(difference(got.givenUp, expected.abandoned_share, tolerance, "share given up")).toBeNull()
})

test("a doubled rate is told in most trials, and giving pairs up is dear", () => {
  const doubled = { ...ordinary, gain: 2 }
  const whole = crossings(doubled, COUNT, stream(SEED, "doubled"))
  expect(difference(whole.completed, expected.doubled_rate_no_abandoning, tolerance, "reached")).toBeNull()
  const broken = crossings({ ...doubled, givingUp: 0.1 }, COUNT, stream(SEED, "doubled, given up"))
  const wanted = expected.doubled_rate_abandoned_pairs_completed
  expect(difference(broken.completed, wanted, tolerance, "completed")).toBeNull()
  expect(broken.completed).toBeLessThan(whole.completed - 0.1)
  const share = expected.abandoned_share_doubled_rate
  expect(difference(broken.givenUp, share, { rel: 0.3, abs: 0 }, "share given up")).toBeNull()
})

test("the confidence sequence holds the mean at all times at once", () => {
  const random = stream(SEED, "confidence sequence")
  const difference4 = (): number => {
    const spot = Math.exp(0.8 * normal(random))
    const count = (mean: number): number => Math.min(4, negativeBinomial(random, mean * spot, 2))
    return (count(1.8) - count(1.2)) / 4
  }
  let sum = 0
  const draws = 400_000
  for (let i = 0; i < draws; i++) sum += difference4()
  const truth = sum / draws // its own error, below 0.001, is small beside the interval's reach
  let missed = 0
  for (let trial = 0; trial < COUNT; trial++) {
    const { runningLow, runningHigh } = confidenceSequence(Float64Array.from({ length: 100 }, difference4))
    if ((runningLow[99] ?? NaN) > truth || (runningHigh[99] ?? NaN) < truth) missed++
  }
  expect(missed / COUNT).toBeLessThanOrEqual(0.05)
})

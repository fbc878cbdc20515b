// A lure that hooked every strike: how often its adjusted ratio holds the truth, over logbooks drawn until 100 have such a lure.
// Days differ, and each trip's strikes share their day's luck. Only the luckiest draws are looked at, of which intervals that hold
// the truth in 95% of all logbooks may hold less; of 100 at 95%, fewer than 88 hold it about once in 600 (binomial): the limit.
import { expect, test } from "vitest"
import { below, binomial, normal, stream } from "../../core/stats/random.ts"
import { compared } from "../unit/questions/compared.ts"
import type { StintRecord } from "../unit/questions/factsOf.ts"

const wanted = 100
const share = (logit: number): number => 1 / (1 + Math.exp(-logit))

test("of logbooks in which a lure hooked every strike, enough hold its true ratio", () => {
  const random = stream(23, "separated shares")
  const [spread, jig, spoon] = [0.5, 0.7, 2.2]
  // what a long run would give: shares averaged over 20,000 days
  const days = Array.from({ length: 20_000 }, () => spread * normal(random))
  const average = (logit: number) => days.reduce((sum, day) => sum + share(logit + day), 0) / days.length
  const truth = average(spoon) / average(jig)
  let [separated, held, finite] = [0, 0, 0]
  for (let logbook = 0; separated < wanted && logbook < 2000; logbook++) {
    const stints = Array.from({ length: 30 }, (_, trip): StintRecord[] => {
      const day = spread * normal(random)
      const drawn = (lure_class: string, strikes: number, logit: number): StintRecord => {
        const hooked = binomial(random, strikes, share(logit + day))
        return {
          trip: `trip ${trip}`,
          strikes: Array.from({ length: strikes }, (__, k) => ({ fate: k < hooked ? "landed" : "missed" })),
          factors: { lure_class },
        }
      }
      return [
        drawn("jig", 1 + below(random, 4), jig),
        ...(trip % 2 === 0 ? [drawn("spoon", 1 + below(random, 2), spoon)] : []),
      ]
    }).flat()
    const ofSpoon = stints.filter(({ factors }) => factors?.lure_class === "spoon")
    if (ofSpoon.some(({ strikes }) => strikes?.some(({ fate }) => fate === "missed"))) continue
    separated++
    const answer = compared(stints, {
      outcome: "hook_up_share",
      by: "lure_class",
      basis: "adjusted",
      given: [],
    })
    const pair = answer.contrasts.find(({ basis }) => basis === "adjusted")
    const [low, high] =
      pair?.a === "spoon" ? [pair.low, pair.high] : [1 / (pair?.high ?? 0), 1 / (pair?.low ?? 0)]
    if (low !== null && high !== null && Number.isFinite(low + high)) finite++
    if ((low ?? 0) <= truth && truth <= (high ?? Infinity)) held++
  }
  console.log(`${separated} logbooks with a lure that hooked every strike: ${held} intervals hold the truth`)
  expect(separated).toBe(wanted)
  expect(finite).toBe(wanted)
  expect(held).toBeGreaterThanOrEqual(88)
})

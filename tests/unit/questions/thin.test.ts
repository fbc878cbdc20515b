// Thin and bad data: an honest sentence each, no stack trace, and no number that means nothing.
import { expect, test } from "vitest"
import { outcomes } from "../../../shared/questions.ts"
import { codesOf, compared } from "./compared.ts"
import { overTrips, type StintRecord } from "./factsOf.ts"

const lures = { outcome: "landed_rate", by: "lure_class" } as const
const names = ["jig", "cork"]
const two = (trips: number, of: (trip: number, lure: number) => Partial<StintRecord> = () => ({})) =>
  names.flatMap((lure_class, lure) =>
    overTrips("trip", trips, (trip) => {
      const { factors, ...stint } = of(trip, lure)
      return { fish: (trip + lure) % 3, ...stint, factors: { lure_class, ...factors } }
    }),
  )
const meaningless = /NaN|Infinity|undefined|null|\b0\.0 times/

const logbooks: Record<string, [StintRecord[], RegExp]> = {
  "no data": [[], /holds no stint of a closed trip yet/],
  "one trip": [two(1), /^Cannot tell: (cork|jig) stands on 1 trip/],
  "all blanks": [two(12, () => ({ fish: 0 })), /^Cannot tell\. Neither .* had any fish/],
  "one level": [
    overTrips("trip", 12, (i) => ({ fish: i % 3, factors: { lure_class: "jig" } })),
    /^Only jig:/,
  ],
  "all values missing": [
    overTrips("trip", 12, () => ({ fish: 1 })),
    /Lure class is not known for any of the 12 stints/,
  ],
  "no effort known": [
    two(12, () => ({ hours: null })),
    /No stint can be used\. Left out: 24 without known effort/,
  ],
}

test.each(Object.entries(logbooks))("%s is answered with a sentence", (_, [stints, sentence]) => {
  expect(compared(stints, lures).sentence).toMatch(sentence)
  for (const outcome of outcomes)
    expect(compared(stints, { ...lures, outcome }).sentence).not.toMatch(meaningless)
})

test("one angler: who fished is not held alike, for it does not vary", () => {
  const answer = compared(
    two(30, () => ({ factors: { angler: "Nell" } })),
    lures,
  )
  expect(answer.held?.left_out).toContainEqual({
    factor: "angler",
    name: "angler",
    why: "it does not vary enough",
  })
  expect(codesOf(answer)).not.toContain("skill")
})

test("sixty levels are each set against the others, with other things alike, and never NaN", () => {
  const stints = Array.from({ length: 120 }, (_, i) =>
    [0, 1, 2].map((k) => ({
      trip: `${i}`,
      fish: (i + k) % 3,
      factors: { lure_class: `lure ${(i * 7 + k * 11) % 60}`, day_of_year: i },
    })),
  ).flat()
  const answer = compared(stints, lures)
  expect(answer.levels).toHaveLength(60)
  expect(answer.contrasts.filter(({ basis }) => basis === "raw")).toHaveLength(60)
  expect(answer.contrasts.filter(({ basis }) => basis === "adjusted").length).toBeGreaterThan(40)
  const numbers = answer.contrasts.flatMap(({ ratio, low, high }) => [ratio ?? 1, low ?? 0, high ?? 1])
  expect(numbers.every(Number.isFinite)).toBe(true)
  expect(answer.sentence).not.toMatch(meaningless)
})

test("a factor that always goes with another cannot be told from it, and is never called better", () => {
  // jigs at dawn only, corks by day only, and dawn is three times as good
  const stints = two(40, (trip, lure) => ({
    fish: lure === 0 ? 3 : trip % 2,
    factors: { light: lure === 0 ? "first light" : "day" },
  }))
  const answer = compared(stints, lures)
  expect(answer.sentence).toMatch(/^Looks better, not shown\./)
  expect(answer.sentence).toMatch(/cannot be told from light/)
  expect(codesOf(answer)[0]).toBe("collinear")
  expect(answer.contrasts.map(({ basis }) => basis)).toEqual(["raw"])
  expect(compared(stints, { ...lures, given: ["light"] }).verdict).toBe("Looks better, not shown")
})

test("a level that goes along with something held alike is left out of the model, the others are not", () => {
  const three = ["jig", "cork", "walker"].flatMap((lure_class, lure) =>
    overTrips("trip", 40, (trip) => ({
      fish: (trip + lure) % 4,
      factors: {
        lure_class,
        light: lure_class === "walker" ? "night" : trip % 2 === 0 ? "day" : "first light",
      },
    })),
  )
  const answer = compared(three, lures)
  const adjusted = answer.contrasts.filter(({ basis }) => basis === "adjusted")
  expect(adjusted.map(({ a, b }) => [a, b].toSorted().join(" "))).toEqual(["cork jig"])
  expect(codesOf(answer)).toContain("collinear")
})

test("a huge count is one day's luck, not a lure's", () => {
  const stints = two(30, (trip, lure) => ({ fish: trip === 7 && lure === 0 ? 5000 : 1 }))
  const answer = compared(stints, lures)
  expect(["Cannot tell", "Looks better, not shown", "Leaning, one day carries it"]).toContain(answer.verdict)
  expect(answer.influence?.trip).toBe("trip 8")
  expect(answer.sentence).not.toMatch(meaningless)
})

test("a stint of one minute weighs as much as its minute", () => {
  const steady = two(30)
  const minute: StintRecord = { trip: "trip 1", fish: 1, hours: 1 / 60, factors: { lure_class: "cork" } }
  const [without, beside] = [compared(steady, lures), compared([...steady, minute], lures)]
  const ratioOf = (answer: typeof without) =>
    answer.contrasts.find(({ basis }) => basis === answer.headline.basis)?.ratio ?? Number.NaN
  expect(Math.abs(Math.log(ratioOf(beside) / ratioOf(without)))).toBeLessThan(0.15)
  expect(beside.sentence).not.toMatch(meaningless)
})

test("no fish at a level in a model gets one end, never a gap", () => {
  const stints = two(20, (trip, lure) => ({ fish: lure === 0 ? trip % 3 : 0 }))
  const adjusted = compared(stints, lures).contrasts.find(({ basis }) => basis === "adjusted")
  expect(adjusted).toMatchObject({ a: "jig", b: "cork", ratio: null, high: null })
  // 19 fish for jigs in 20 hours; a count of 0 in 20 hours stands for 3.7 at most (Garwood 1936), so the ratio for 5 at least
  expect(adjusted?.low).toBeGreaterThan(1)
  expect(adjusted?.low).toBeLessThan(19 / 3.68)
})

import { expect, test } from "vitest"
import { answerAsk, factorsNeeded } from "../../../core/questions/ask.ts"
import { makeSample } from "../../../core/demo/sample.ts"
import type { Facts } from "../../../core/facts.ts"
import { Answer, isComparison, LookThrough } from "../../../shared/answer.ts"
import { Patience } from "../../../shared/patience.ts"
import { Steps } from "../../../shared/steps.ts"
import { factorIds, factorOf } from "../../../shared/factors.ts"
import { outcomes } from "../../../shared/questions.ts"
import { factsOfSample } from "../demo/factsOfSample.ts"
import { standInSky } from "../demo/standInSky.ts"
import { compared } from "./compared.ts"
import { askOf, factsOf, overTrips, type StintRecord, type StrikeRecord } from "./factsOf.ts"

/** A value of every factor, the k-th of its kind. */
function everyFactor(k: number): NonNullable<StintRecord["factors"]> {
  const values: NonNullable<StintRecord["factors"]> = {}
  for (const id of factorIds) {
    const factor = factorOf(id)
    const words = factor.kind === "categorical" ? (factor.levels ?? [`word ${k}`]) : []
    values[id] = factor.kind === "categorical" ? (words[k % words.length] ?? "") : 1 + 3 * k
  }
  return values
}
const missed: StrikeRecord = { fate: "missed", species: "red drum" }
const stint = (trip: string, k: number): StintRecord => ({
  trip,
  strikes:
    k % 2 === 0 ? [{ fate: "landed", species: "red drum", length_mm: 400 + 10 * k }, missed] : [missed],
  hang_ups: k % 2,
  factors: everyFactor(k),
})
function sampleFacts(factors: Parameters<typeof factsOfSample>[1]): Facts {
  return factsOfSample(makeSample({ seed: 7, seasons: 1 }, standInSky), factors)
}
const logbooks: Record<string, Facts> = {
  "an empty logbook": factsOf([]),
  "one stint": factsOf([stint("a", 0)]),
  "one trip": factsOf([stint("a", 0), stint("a", 1), stint("a", 2)]),
  "a trip that is not complete": factsOf([{ ...stint("a", 0), complete: false }]),
  "nothing known": factsOf([
    { trip: "a", hours: null, hang_ups: null, counted: { strikes: null, hook_ups: null, landed: null } },
  ]),
  "some trips": factsOf(overTrips("trip", 9, (i) => stint("", i % 3))),
  "the sample": sampleFacts(["lure_class", "colour", "light", "pause_s", "angler", "ground"]),
}

test.each(Object.entries(logbooks))(
  "every outcome by every factor is answered or refused: %s",
  (_, facts) => {
    for (const outcome of outcomes)
      for (const by of factorIds) {
        const answer = answerAsk(facts, askOf({ outcome, by }))
        const parsed = Answer.strict().safeParse(answer)
        expect(parsed.error?.message ?? "", `${outcome} by ${by}`).toBe("")
        if (!isComparison(answer)) throw new Error("a comparison was asked for")
        expect(answer.sentence).not.toBe("")
        expect(answer.sentence).not.toMatch(/NaN|Infinity|undefined|null/)
        const leftOut = answer.data.left_out.reduce((sum, { stints }) => sum + stints, 0)
        expect(answer.data.stints + leftOut).toBe(facts.stints)
        expect(answer.sentence).toContain(answer.refused?.text ?? "")
        expect(answer.levels.length > 0).toBe(answer.refused === null)
        // an end farther than e^12 from 1 says nothing: it is unbounded, null
        const ends = answer.contrasts.flatMap(({ low, high }) => [low ?? 1, high ?? 1])
        expect(ends.filter((end) => end !== 0 && Math.abs(Math.log(end)) > 12.01)).toEqual([])
      }
  },
)

test.each(Object.entries(logbooks))("every outcome by all factors: %s", (_, facts) => {
  for (const outcome of outcomes)
    expect(LookThrough.strict().safeParse(answerAsk(facts, askOf({ outcome, by: "all" }))).success).toBe(true)
})

test.each(Object.entries(logbooks))("from look to landed and patience, by every factor: %s", (_, facts) => {
  for (const [question, shape] of [
    ["steps", Steps],
    ["patience", Patience],
  ] as const)
    for (const by of factorIds) {
      const told = answerAsk(facts, askOf({ question, outcome: "strike_rate", by }))
      const parsed = shape.strict().safeParse(told)
      expect(parsed.error?.message ?? "", `${question} by ${by}`).toBe("")
      const sentence = "sentence" in told ? told.sentence : ""
      expect(sentence).toMatch(/\.$/)
      expect(sentence).not.toMatch(/NaN|Infinity|undefined|null/)
    }
})

const jigs = overTrips("trip", 3, () => ({ fish: 1, factors: { lure_class: "jig" } }))

test("the reason of a refusal has its code", () => {
  const ask = { outcome: "landed_rate", by: "lure_class" } as const
  expect(compared([], ask).refused?.code).toBe("empty_logbook")
  expect(compared([{ trip: "a" }], ask).refused?.code).toBe("no_level")
  expect(compared([{ trip: "a", complete: false }], ask).refused?.code).toBe("nothing_left")
  expect(
    compared([{ trip: "a", factors: { light: "day" } }], {
      ...ask,
      where: [{ factor: "light", level: "night" }],
    }).refused?.code,
  ).toBe("nothing_asked")
  expect(compared(jigs, { ...ask, outcome: "length_mm" }).refused?.code).toBe("nothing_counted")
})

test("a basis that has no answer is refused with its reason and the data it would have used", () => {
  const ask = { outcome: "landed_rate", by: "lure_class" } as const
  const apart = [
    ...overTrips("jig", 9, (i) => ({ fish: i % 3, factors: { lure_class: "jig" } })),
    ...overTrips("cork", 9, (i) => ({ fish: i % 2, factors: { lure_class: "cork" } })),
  ]
  for (const basis of ["same_trip", "same_stop"] as const) {
    const answer = compared(apart, { ...ask, basis })
    expect(answer.refused?.code).toBe("basis_unavailable")
    expect(answer.refused?.text).toMatch(/cannot be answered here: no (trip|stop) holds both/)
    expect(answer.data).toMatchObject({ trips: 18, stints: 18, rod_hours: 18 })
  }
  expect(compared(jigs, { ...ask, basis: "adjusted" }).refused?.text).toMatch(/only one level was fished/)
  expect(compared(apart, { ...ask, outcome: "any_fish", basis: "same_trip" }).refused?.text).toMatch(
    /Only rates|only rates/,
  )
  expect(compared(apart, { ...ask, basis: "adjusted" }).headline.basis).toBe("adjusted")
  expect(compared(jigs, { ...ask, basis: "raw", given: [] }).refused).toBeNull()
})

test("a factor is neither held alike nor a modifier of itself", () => {
  const ask = { outcome: "landed_rate", by: "lure_class" } as const
  expect(() => askOf({ ...ask, given: ["lure_class"] })).toThrow(/cannot be held alike/)
  expect(() => askOf({ ...ask, depends_on: "lure_class" })).toThrow(/depend on another one/)
})

test("a question needs the columns of what it compares and of its conditions", () => {
  const where = [
    { factor: "light", level: "day" },
    { factor: "lure_class", level: "jig" },
  ]
  expect(factorsNeeded(askOf({ outcome: "landed_rate", by: "lure_class", where, basis: "raw" }))).toEqual([
    "lure_class",
    "light",
  ])
  const asked = askOf({ outcome: "landed_rate", by: "lure_class", given: ["spot"], depends_on: "light" })
  expect(factorsNeeded(asked)).toEqual(["lure_class", "light", "spot", "rods"])
  expect(factorsNeeded(askOf({ outcome: "landed_rate", by: "all" }))).toEqual(factorIds)
})

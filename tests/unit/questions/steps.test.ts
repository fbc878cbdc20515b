import { expect, test } from "vitest"
import { answerAsk } from "../../../core/questions/ask.ts"
import type { Patience } from "../../../shared/patience.ts"
import type { Steps } from "../../../shared/steps.ts"
import { askOf, factsOf, overTrips, type StintRecord, type StrikeRecord } from "./factsOf.ts"

const steps = (stints: readonly StintRecord[]): Steps => {
  const told = answerAsk(
    factsOf(stints),
    askOf({ question: "steps", outcome: "strike_rate", by: "hook_shank" }),
  )
  if (!("question" in told) || told.question !== "steps") throw new Error("steps were asked for")
  return told
}
const patience = (stints: readonly StintRecord[], by: "spot" | "lure_class" = "spot"): Patience => {
  const told = answerAsk(factsOf(stints), askOf({ question: "patience", outcome: "strike_rate", by }))
  if (!("question" in told) || told.question !== "patience") throw new Error("patience was asked for")
  return told
}
const strikes = (missed: number, lost: number, landed: number): StrikeRecord[] => [
  ...Array.from({ length: missed }, (): StrikeRecord => ({ fate: "missed" })),
  ...Array.from({ length: lost }, (): StrikeRecord => ({ fate: "lost" })),
  ...Array.from({ length: landed }, (): StrikeRecord => ({ fate: "landed" })),
]

test("where a level loses is the step at which it clearly falls behind the rest", () => {
  const told = steps([
    ...overTrips("trip", 20, (i) => ({
      strikes: strikes(1 + (i % 2), 1, 3),
      factors: { hook_shank: "long" },
    })),
    ...overTrips("trip", 20, (i) => ({
      strikes: strikes(3 + (i % 2), 0, 2),
      factors: { hook_shank: "short" },
    })),
  ])
  const [short, long] = told.levels
  expect(short).toMatchObject({
    level: "short",
    loses_at: "hooked",
    counts: { strikes: 110, hooked: 40, landed: 40 },
  })
  expect(short?.hooked.estimate).toBeCloseTo(40 / 110, 12)
  expect(short?.strikes.estimate).toBeCloseTo(110 / 20, 12)
  expect(short?.against_rest.hooked.ratio).toBeCloseTo(40 / 110 / (80 / 110), 12)
  expect(long?.landed.estimate).toBeCloseTo(60 / 80, 12)
  // 60 of 80 hooked fish against 40 of 40
  expect(long?.against_rest.landed.ratio).toBeCloseTo(60 / 80, 12)
  expect(told.sentence).toMatch(/Short hooks fewer of its strikes than the rest, 0\.50 times/)
})

test("where follows were counted, a level may lose most between the look and the strike", () => {
  const looked = (hook_shank: string, follows: number | undefined) => (i: number) => ({
    strikes: strikes(i % 2, 0, 2),
    ...(follows === undefined ? {} : { follows: follows + (i % 2) }),
    factors: { hook_shank },
  })
  const told = steps([
    ...overTrips("trip", 20, looked("long", 1)),
    ...overTrips("trip", 20, looked("short", 8)),
    // follows were not counted: these tell of every other step
    ...overTrips("blind", 6, looked("short", undefined)),
  ])
  const [short, long] = told.levels
  // 50 strikes of 170 + 50 looks, and of 30 + 50
  expect(short?.struck?.estimate).toBeCloseTo(50 / 220, 12)
  expect(long?.struck?.estimate).toBeCloseTo(50 / 80, 12)
  expect(short?.follows?.estimate).toBeCloseTo(170 / 20, 12)
  expect(short?.loses_at).toBe("struck")
  expect(short?.against_rest.struck?.ratio).toBeCloseTo(50 / 220 / (50 / 80), 12)
  expect(told.sentence).toMatch(
    /Short turns fewer of its looks \(follows and strikes\) into strikes than the rest, 0\.36/,
  )
  expect(short?.per_hour.landed.estimate).toBeCloseTo((2 * 26) / 26, 12)
})

test("a level whose follows were never counted says nothing of looks", () => {
  const told = steps(
    overTrips("trip", 8, () => ({ strikes: strikes(1, 1, 1), factors: { hook_shank: "long" } })),
  )
  expect(told.levels[0]).toMatchObject({ struck: null, follows: null, against_rest: { struck: null } })
})

test("only stints in which every step was counted tell, and the others are counted", () => {
  const whole = overTrips("trip", 6, () => ({ strikes: strikes(1, 1, 1), factors: { hook_shank: "long" } }))
  const blind = overTrips("trip", 4, () => ({
    strikes: strikes(0, 0, 3),
    counted: { strikes: null },
    factors: { hook_shank: "long" },
  }))
  const told = steps([...whole, ...blind])
  expect([told.stints, told.left_out]).toEqual([6, 4])
  expect(steps(blind).refused?.text).toMatch(
    /no stint in which every step from strike to landed fish was counted/,
  )
})

/** Visits of an hour in six stints' worth of trips; the first strike falls `first` minutes in, or never. */
const visit = (trip: string, spot: string, first: number | null): StintRecord => ({
  trip,
  start: 0,
  hours: 1,
  strikes: first === null ? [] : [{ fate: "missed", at: first }],
  factors: { spot, lure_class: "jig" },
})

test("the chance of a strike in the next quarter of an hour is that of the quarters waited", () => {
  // Of 40 visits 10 have a strike in each of the first three quarters and the others none: hazards 10/40 and 10/30, then
  // 10/20 and 0/10, which go together as 10/30, since a last step without a strike has no hazard of its own.
  const visits = Array.from({ length: 40 }, (_, i) =>
    visit(`trip ${i}`, "creek", i < 30 ? 15 * Math.floor(i / 10) + 5 : null),
  )
  const told = patience(visits)
  expect(told).toMatchObject({ unit: "stop", spells: 40, with_strike: 30, left_out: 0 })
  const [level] = told.levels
  const chances = level?.after.map(({ estimate }) => estimate ?? Number.NaN) ?? []
  expect(chances).toHaveLength(4)
  for (const [k, hazard] of [10 / 40, 10 / 30, 10 / 30, 10 / 30].entries())
    expect(chances[k]).toBeCloseTo(hazard, 6) // a model with a step for each hazard gives the shares themselves
  expect(level?.after.map(({ spells }) => spells)).toEqual([40, 30, 20, 10])
})

test("trips on which a strike has no time are left out whole, dry visits and all", () => {
  const timed = Array.from({ length: 20 }, (_, i) => visit(`trip ${i}`, "creek", i % 2 === 0 ? 10 : null))
  const untimed: StintRecord[] = [
    { ...visit("late", "creek", null), stop: 900 },
    { ...visit("late", "creek", null), stop: 901, strikes: [{ fate: "missed" }] },
  ]
  const told = patience([...timed, ...untimed])
  expect([told.spells, told.left_out]).toEqual([20, 2])
  expect(patience(untimed).refused?.text).toMatch(/on trips with strikes without a time/)
})

test("tackle is waited on by the stint, spots by the visit", () => {
  const stints = Array.from({ length: 20 }, (_, i) => [
    { ...visit(`trip ${i}`, "creek", null), stop: i },
    { ...visit(`trip ${i}`, "creek", 20), stop: i, start: 60 },
  ]).flat()
  expect(patience(stints, "spot")).toMatchObject({ unit: "stop", spells: 20, with_strike: 20 })
  expect(patience(stints, "lure_class")).toMatchObject({ unit: "stint", spells: 40, with_strike: 20 })
})

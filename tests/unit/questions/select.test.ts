import { expect, test } from "vitest"
import type { Answer } from "../../../shared/answer.ts"
import { ProblemError } from "../../../shared/problems.ts"
import { compared } from "./compared.ts"
import type { StintRecord } from "./factsOf.ts"

const jig = { lure_class: "jig" }
const stints: readonly StintRecord[] = [
  { trip: "a", fish: 1, factors: jig },
  { trip: "b", fish: 0, factors: jig },
  { trip: "c", complete: false, hours: null, counted: { landed: null } },
  { trip: "d", counted: { landed: null }, hours: null, factors: jig },
  { trip: "e", hours: null, factors: jig },
  { trip: "f", fish: 2 },
]
const landedByLure = { outcome: "landed_rate", by: "lure_class" } as const

const leftOut = ({ data }: Answer) =>
  Object.fromEntries(data.left_out.map(({ reason, stints: n }) => [reason, n]))

test("a stint is left out for the first reason that applies, and used + left out are all that pass", () => {
  const answer = compared(stints, landedByLure)
  expect(answer.data.stints).toBe(2)
  expect(leftOut(answer)).toEqual({
    trip_not_complete: 1,
    outcome_not_counted: 1,
    effort_unknown: 1,
    factor_unknown: 1,
  })
})

test("shares and lengths use partial trips and stints without known effort", () => {
  const partial: StintRecord[] = [
    { trip: "a", complete: false, hours: null, strikes: [{ fate: "landed", length_mm: 400 }], factors: jig },
    { trip: "b", complete: false, strikes: [{ fate: "missed" }], factors: jig },
  ]
  expect(compared(partial, { outcome: "hook_up_share", by: "lure_class" }).data).toMatchObject({
    stints: 2,
    events: 1,
    trials: 2,
    rod_hours: 1,
  })
  expect(compared(partial, { outcome: "length_mm", by: "lure_class" }).data).toMatchObject({
    stints: 2,
    events: 1,
  })
  expect(compared(partial, landedByLure).refused?.code).toBe("nothing_left")
})

test("where keeps stints at one of the levels named, of every factor named, ignoring case", () => {
  const at = (light: string, water_temp_c: number): StintRecord => ({
    trip: `${light} ${water_temp_c}`,
    factors: { ...jig, light, water_temp_c },
  })
  const all = [at("day", 10), at("night", 15), at("first light", 15), at("first light", 30)]
  const used = (where: { factor: string; level: string }[]) =>
    compared(all, { ...landedByLure, where }).data.stints
  expect(used([{ factor: "light", level: "First Light" }])).toBe(2)
  expect(
    used([
      { factor: "light", level: "first light" },
      { factor: "light", level: "night" },
      { factor: "water_temp_c", level: "12-<18" },
    ]),
  ).toBe(2)
  expect(used([{ factor: "water_temp_c", level: ">=24" }])).toBe(1)
})

test("the cuts asked for name the levels of where too", () => {
  const all = [10, 15, 30].map((water_temp_c) => ({ trip: `at ${water_temp_c}`, factors: { water_temp_c } }))
  const answer = compared(all, {
    outcome: "landed_rate",
    by: "water_temp_c",
    cuts: [20],
    where: [{ factor: "water_temp_c", level: "<20" }],
  })
  expect(answer.levels.map(({ level, stints: n }) => [level, n])).toEqual([["<20", 2]])
})

test("a level that does not exist is refused with the levels that do", () => {
  const ask = { ...landedByLure, where: [{ factor: "light", level: "dusk" }] }
  expect(() => compared(stints, ask)).toThrow(ProblemError)
  expect(() => compared(stints, ask)).toThrow(
    /"dusk" is not a level of Light.*night, first light, day, last light/,
  )
})

test("with effort on target trips only those that targeted a species asked about count", () => {
  const targeted: StintRecord[] = [
    { trip: "a", target: "red drum", factors: jig },
    { trip: "b", target: "spotted seatrout", factors: jig },
    { trip: "c", factors: jig },
  ]
  const answer = compared(targeted, { ...landedByLure, species: ["Red Drum"], effort: "target" })
  expect(answer.data).toMatchObject({ stints: 1, left_out: [] })
})

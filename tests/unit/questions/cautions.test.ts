import { expect, test } from "vitest"
import { presets, type ReaderUnits } from "../../../shared/readerUnits.ts"
import { codesOf, compared } from "./compared.ts"
import { overTrips, type StintRecord } from "./factsOf.ts"

const lures = { outcome: "landed_rate", by: "lure_class" } as const
const of = (prefix: string, lure_class: string, trips: number, stint: Partial<StintRecord> = {}) =>
  overTrips(prefix, trips, (i) => ({ fish: i % 3, ...stint, factors: { lure_class } }))
const textOf = (stints: readonly StintRecord[], code: string) =>
  compared(stints, lures).cautions.find((caution) => caution.code === code)?.text

test("nothing but the basis is warned of in a sound logbook", () => {
  const sound = [...of("trip", "jig", 20), ...of("trip", "cork", 20)]
  expect(codesOf(compared(sound, { ...lures, basis: "raw" }))).toEqual(["raw_only"])
  expect(codesOf(compared(sound, lures))).toEqual(["not_held", "own_path", "chosen_days"])
})

test("that nothing is held alike is always said, and last where no water is predicted", () => {
  for (const outcome of ["landed_rate", "any_fish", "hang_up_rate"] as const)
    expect(codesOf(compared(of("trip", "jig", 2), { ...lures, outcome })).at(-1)).toBe("raw_only")
})

test("levels on one, on two or three and on fewer than twelve trips are told apart", () => {
  const stints = [
    ...of("trip", "jig", 12),
    ...of("trip", "cork", 11),
    ...of("trip", "spoon", 3),
    ...of("trip", "fly", 1),
  ]
  expect(textOf(stints, "one_trip")).toMatch(/fly/)
  expect(textOf(stints, "too_few_trips")).toMatch(/spoon \(3 trips\)/)
  expect(textOf(stints, "few_trips")).toMatch(/cork \(11 trips\)/)
})

test("a trip that carries a level is named with what is left without it", () => {
  const quiet = of("quiet", "jig", 12, { fish: 1, hours: 2 })
  const great: StintRecord = { trip: "12 October", fish: 26, hours: 2, factors: { lure_class: "jig" } }
  // 38 fish in 26 hours; 12 in 24 without that day.
  expect(textOf([...quiet, great], "one_trip_carries")).toBe(
    "12 October carries jig: without that trip it falls from 1.5 to 0.50.",
  )
})

test("levels never fished in one trip are named", () => {
  expect(textOf([...of("day", "jig", 12), ...of("night", "cork", 12)], "never_same_trip")).toMatch(
    /cork with jig|jig with cork/,
  )
  expect(textOf([...of("day", "jig", 12), ...of("day", "cork", 1)], "never_same_trip")).toBeUndefined()
})

test("a record without a blank stint is doubted, as a whole or for a level", () => {
  const always = of("trip", "jig", 12, { fish: 1 })
  expect(textOf(always, "blanks_unrecorded")).toMatch(/^None of the 12 stints is without a fish/)
  expect(textOf([...always, ...of("trip", "cork", 12)], "blanks_unrecorded")).toMatch(/12 stints of jig is/)
  expect(textOf(of("trip", "jig", 9, { fish: 1 }), "blanks_unrecorded")).toBeUndefined()
})

test("hours from memory and rows taken as trips are counted", () => {
  const stints = [...of("a", "jig", 15), ...of("b", "jig", 5, { clocked: false, row_is_trip: true })]
  expect(textOf(stints, "no_clock")).toMatch(/^25% of the rod-hours/)
  expect(textOf(stints, "row_is_trip")).toMatch(/^5 of 20 stints/)
})

test("rare great days are warned of where trips differ far more than lone fish would", () => {
  const blanks = of("blank", "jig", 25, { fish: 0, hours: 3 })
  const great = of("great", "jig", 3, { fish: 20, hours: 3 })
  expect(textOf([...blanks, ...great], "rare_days")).toMatch(
    /rare great days may make the long-run rate higher/,
  )
  const words = "Rare great days may make the long-run figures higher."
  const cork = of("blank", "cork", 25, { fish: 0, hours: 3 })
  expect(compared([...blanks, ...great], lures).sentence).toContain(words)
  expect(compared([...blanks, ...great, ...cork], lures).sentence).toContain(words)
  expect(compared(of("trip", "jig", 20), lures).sentence).not.toContain(words)
})

test("how many pairs were looked at is said from three on", () => {
  expect(textOf([...of("t", "jig", 12), ...of("t", "cork", 12)], "many_levels")).toBeUndefined()
  expect(
    textOf([...of("t", "jig", 12), ...of("t", "cork", 12), ...of("t", "fly", 12)], "many_levels"),
  ).toMatch(/^3 pairs/)
})

test("levels and lengths in a caution are in the reader's units", () => {
  const small = overTrips("small", 5, () => ({
    strikes: [{ fate: "landed" as const, length_mm: 254 }],
    factors: { water_temp_c: 20 },
  }))
  const great: StintRecord = {
    trip: "great day",
    strikes: Array.from({ length: 5 }, () => ({ fate: "landed" as const, length_mm: 762 })),
    factors: { water_temp_c: 20 },
  }
  const ask = { outcome: "length_mm", by: "water_temp_c" } as const
  const carries = (reader: ReaderUnits) =>
    compared([...small, great], ask, reader).cautions.find(({ code }) => code === "one_trip_carries")?.text
  // 10 and 30 inches by definition of the inch, 25.4 mm; five fish each, so 20 on the whole.
  expect(carries(presets.metric)).toBe(
    "great day carries 18-<24 °C: without that trip it falls from 508 to 254 mm.",
  )
  expect(carries(presets.us)).toBe(
    "great day carries 64-<75 °F: without that trip it falls from 20.0 to 10.0 in.",
  )
})

test("every caution names its levels in the reader's units", () => {
  const at = (water_temp_c: number, trips: number) =>
    overTrips(`at ${water_temp_c}`, trips, () => ({ fish: 1, factors: { water_temp_c } }))
  const stints = [...at(10, 1), ...at(15, 3), ...at(20, 11), ...at(30, 12)]
  const ask = { outcome: "landed_rate", by: "water_temp_c" } as const
  const texts = compared(stints, ask, presets.us).cautions.map(({ text }) => text)
  const all = texts.join(" ")
  expect(all).not.toContain("°C")
  for (const said of [
    "Fished on one trip only: <54 °F.",
    "Fished on two or three trips only: 54-<64 °F (3 trips).",
    "Fished on fewer than 12 trips: 64-<75 °F (11 trips).",
    "(54-<64 °F with <54 °F, 64-<75 °F with <54 °F and 4 more)",
  ])
    expect(all).toContain(said)
})

test("answers by predicted water say so once, in the last place", () => {
  const by = (factor: "tide_stage" | "tide_rate_m_h" | "current_stage", value: string | number) =>
    compared(
      overTrips("trip", 20, (i) => ({ fish: i % 3, factors: { [factor]: value } })),
      { outcome: "landed_rate", by: factor },
    )
  for (const answer of [by("tide_stage", "rising"), by("tide_rate_m_h", 0.2), by("current_stage", "ebb")]) {
    expect(codesOf(answer)).toEqual(["raw_only", "predicted_tide"])
    expect(answer.cautions.at(-1)?.text).toMatch(
      /predicted, not observed, and not for navigation: wind, air pressure, river water and surge move real water/,
    )
  }
  const height = /Rise and fall are not current: the two turn at different times\.$/
  expect(by("tide_rate_m_h", 0.2).cautions.at(-1)?.text).toMatch(height)
  expect(by("tide_stage", "rising").cautions.at(-1)?.text).toMatch(
    /^Tides worked out here .*different times\.$/,
  )
  expect(by("current_stage", "ebb").cautions.at(-1)?.text).toMatch(
    /^Currents worked out here .* real water\.$/,
  )
})

test("a question kept to stints of one tide or current says so too", () => {
  const stints = overTrips("trip", 20, (i) => ({
    fish: i % 3,
    factors: { lure_class: "jig", tide_stage: "rising", current_stage: "flood" },
  }))
  const where = [
    { factor: "tide_stage", level: "rising" },
    { factor: "current_stage", level: "flood" },
  ]
  const { cautions } = compared(stints, { ...lures, where })
  expect(cautions.filter(({ code }) => code === "predicted_tide").map(({ text }) => text)).toEqual([
    expect.stringContaining("Tides and currents worked out here"),
  ])
  expect(codesOf(compared(stints, lures))).not.toContain("predicted_tide")
})

test("that some stints ended because nothing bit is said of what one changes for it, not of the tide", () => {
  const stints = ["jig", "cork"].flatMap((lure_class) =>
    overTrips("trip", 20, (i) => ({
      fish: i % 2,
      why_changed: i % 2 === 0 ? ("slow" as const) : ("planned" as const),
      factors: { lure_class, tide_stage: i % 3 === 0 ? "rising" : "falling" },
    })),
  )
  const codes = (by: "lure_class" | "tide_stage") =>
    compared(stints, { outcome: "landed_rate", by }).cautions.map(({ code }) => code)
  expect(codes("lure_class")).toContain("changed_when_slow")
  expect(codes("tide_stage")).not.toContain("changed_when_slow")
})

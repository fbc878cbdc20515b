import { describe, expect, test } from "vitest"
import { clockIn } from "../../../renderer/charts/clock.ts"
import { sayConditions, sayDayConditions } from "../../../renderer/screens/logbook/conditionWords.ts"
import { fishOf, found, inOrder, sayTrip, tripName } from "../../../renderer/screens/logbook/list.ts"
import { outcomeCells, type PageStint } from "../../../renderer/screens/logbook/outcomeCells.ts"
import { latestYear, saySeason, seasonDays } from "../../../renderer/screens/logbook/season.ts"
import { sayStrike } from "../../../renderer/screens/logbook/strikeWords.ts"
import { sayPage } from "../../../renderer/screens/logbook/tripWords.ts"
import { presets } from "../../../shared/readerUnits.ts"
import type { TripListed, TripPage } from "../../../shared/trips.ts"

const trip = (id: string, part: Partial<TripListed> = {}): TripListed => ({
  id,
  date: "2026-10-17",
  label: null,
  purpose: "own",
  status: "closed",
  completeness: "complete",
  anglers: ["Nell"],
  spots: ["Mill Drain", "Long Rake"],
  target: "red drum",
  stints: 4,
  rod_hours: 5,
  strikes: null,
  landed: 3,
  notes: null,
  ...part,
})

describe("the list", () => {
  const trips = [
    trip("café", { label: "Café dock", landed: 0, rod_hours: 8 }),
    trip("unknown", { landed: null, rod_hours: null, notes: "Wind got up" }),
    trip("good", { landed: 10, rod_hours: 4, anglers: ["Tobin"] }),
    trip("partial", { landed: 9, rod_hours: 1, completeness: "partial" }),
  ]
  const ids = (some: readonly TripListed[]) => some.map(({ id }) => id)

  test("is searched in label, anglers, notes and spots, without regard to case and accents, for every word", () => {
    expect(ids(found(trips, "cafe"))).toEqual(["café"])
    expect(ids(found(trips, "TOBIN drain"))).toEqual(["good"])
    expect(ids(found(trips, "wind up"))).toEqual(["unknown"])
    expect(ids(found(trips, "tobin wind"))).toEqual([])
    expect(found(trips, "  ")).toBe(trips)
  })

  test("is sorted with what is unknown last; only complete trips have a rate", () => {
    expect(ids(inOrder(trips, "earliest"))).toEqual(["partial", "good", "unknown", "café"])
    expect(ids(inOrder(trips, "rod_hours"))).toEqual(["café", "good", "partial", "unknown"])
    expect(ids(inOrder(trips, "landed"))).toEqual(["good", "partial", "café", "unknown"])
    expect(ids(inOrder(trips, "rate"))).toEqual(["good", "café", "unknown", "partial"])
  })

  test("says blank only of a complete trip that counted its fish", () => {
    expect(fishOf(trip("a", { landed: 0 }))).toEqual({ figure: "blank", word: null })
    expect(fishOf(trip("a", { landed: null }))).toEqual({ figure: "not counted", word: null })
    expect(fishOf(trip("a", { landed: 0, completeness: "partial" }))).toEqual({
      figure: "none",
      word: "partial",
    })
    expect(fishOf(trip("a", { landed: 2, completeness: "catches only" }))).toEqual({
      figure: "2",
      word: "catches only",
    })
    expect(fishOf(trip("a", { landed: 0, status: "open" }))).toEqual({ figure: "0", word: "so far" })
    expect(fishOf(trip("a", { landed: 0, status: "planned" })).figure).toBe("planned")
  })

  test("reads a trip out with everything that stands in its row", () => {
    expect(sayTrip(trip("a", { landed: 1, purpose: "guided" }))).toMatch(
      /^Saturday.*, Mill Drain and Long Rake, Nell, guided, for red drum, 5\.00 rod-hours, 1 fish$/,
    )
    expect(tripName(trip("a", { spots: [] }))).toBe("no spot noted")
  })
})

describe("the season", () => {
  const trips = [
    trip("a", { date: "2027-01-03", status: "planned", landed: 0 }),
    trip("b", { date: "2026-10-17", landed: 4 }),
    trip("c", { date: "2026-10-17", landed: null }),
    trip("d", { date: "2026-03-02", landed: 0 }),
    trip("e", { date: "2026-03-01", landed: null }),
  ]

  test("has a mark for each day that was fished: fish, blank or unknown", () => {
    expect(
      seasonDays(trips, "2026").map(({ month, day, mark, landed }) => [month, day, mark, landed]),
    ).toEqual([
      [3, 1, "unknown", null],
      [3, 2, "blank", 0],
      [10, 17, "fish", 4],
    ])
    expect(seasonDays(trips, "2027").map(({ mark }) => mark)).toEqual(["planned"])
    expect(seasonDays(trips, "2026").at(-1)?.said).toMatch(/4 fish; not counted$/)
  })

  test("opens at the latest year that was fished, and is told in words", () => {
    expect(latestYear(trips)).toBe("2026")
    expect(saySeason(trips, "2026")).toBe(
      "2026: 4 trips on 3 days, 4 fish, 1 blank trip, 2 not counted; most trips in October (2).",
    )
  })
})

const strike = (fate: PageStint["fish"][number]["fate"]): PageStint["fish"][number] => ({
  id: fate,
  fate,
  species_id: null,
  species: null,
  at: null,
  took_on: null,
  length_mm: null,
  length_type: null,
  weight_g: null,
  estimated: null,
  kept: null,
})
const stint = (part: Partial<PageStint> = {}): PageStint => ({
  id: "stint",
  start_at: null,
  end_at: null,
  effort_minutes: null,
  effort_source: "clocked",
  rods: 1,
  rod_hours: 1,
  angler: null,
  presentation: null,
  lure_class: null,
  strikes: 4,
  hook_ups: 3,
  landed: 1,
  follows: null,
  hang_ups: 2,
  lures_lost: 0,
  why_changed: null,
  notes: null,
  fish: [strike("missed"), strike("lost"), strike("bitten off"), strike("landed")],
  conditions: [],
  ...part,
})
const all = { misses: true, losses: true, landed: true, follows: true, hang_ups: true }

describe("what a stint came to", () => {
  test("is counted from its strikes, those bitten off among the lost", () => {
    expect(outcomeCells(stint(), all)).toEqual({
      followed: null,
      missed: 1,
      lost: 2,
      landed: 1,
      hungUp: 2,
    })
  })

  test("is unknown where it was not counted, and never none", () => {
    const noMisses = stint({ strikes: null, fish: [strike("landed")] })
    expect(outcomeCells(noMisses, { ...all, misses: false })).toMatchObject({ missed: null, lost: 0 })
    const noLosses = stint({ strikes: null, hook_ups: null, fish: [strike("missed")] })
    expect(outcomeCells(noLosses, { ...all, losses: false })).toMatchObject({ missed: 1, lost: null })
    // The trip counted all, yet the core does not know the strikes: this stint was an exception, or a fate is vague.
    const exception = stint({ strikes: null, hook_ups: null, hang_ups: null })
    expect(outcomeCells(exception, all)).toMatchObject({ missed: null, lost: null, hungUp: null })
  })
})

const page = (part: Partial<TripPage>): TripPage => ({
  ...trip("page"),
  zone: "America/New_York",
  start_at: null,
  end_at: null,
  recorded: "that night",
  counted: all,
  strip: null,
  stops: [],
  cautions: [],
  previous: null,
  next: null,
  ...part,
})
const stop = (stints: PageStint[]): TripPage["stops"][number] => ({
  id: "stop",
  spot: "Mill Drain",
  start_at: null,
  end_at: null,
  platform: null,
  why_left: null,
  stints,
})
const clock = clockIn("America/New_York")

describe("a trip in one breath", () => {
  test("says who, rods, when, effort, fish, what was counted and how complete it is", () => {
    const from = Date.UTC(2026, 9, 17, 10, 20)
    const stints = [
      stint({ start_at: from, end_at: from + 45 * 60_000, landed: 0 }),
      stint({ rods: 2, landed: 3 }),
    ]
    const said = sayPage(page({ stops: [stop(stints)], counted: { ...all, follows: false } }), clock)
    expect(said.replaceAll(/\s/g, " ")).toMatch(
      /^Nell, for red drum, 1 to 2 rods\. 0?6:20 ?– ?0?7:05( AM)?\. 5\.00 rod-hours, 3 fish, 1 of 2 stints blank\. Counted: misses, losses, landed fish and hang-ups; not counted: follows\. Complete: all effort is in it\. Recorded that night\.$/,
    )
  })

  test("claims nothing that is not known", () => {
    const said = sayPage(
      page({
        stops: [stop([stint({ landed: null })])],
        landed: null,
        rod_hours: null,
        completeness: "partial",
      }),
      clock,
    )
    expect(said).toContain("No clock times.")
    expect(said).toContain("Rod-hours not known, fish not counted.")
    expect(said).toContain("Partial: some of the effort is missing.")
  })
})

test("a strike says which length was measured where the species tells, and claims nothing unknown", () => {
  const measured = { ...strike("landed"), species: "bluefish", length_mm: 571.5, kept: false }
  // 571.5 mm are 22.5 in: NIST SP 811, the inch is 25.4 mm.
  expect(sayStrike({ ...measured, length_type: "fork" }, clock, presets.us)).toBe(
    "landed: bluefish, 22.5 in fork length, released",
  )
  expect(sayStrike(measured, clock, presets.us)).toBe("landed: bluefish, 22.5 in, released")
  expect(sayStrike(strike("missed"), clock, presets.us)).toBe("missed")
  // 1 lb is 453.59237 g: NIST SP 811.
  const estimated = { weight_g: 3 * 453.59237, fish: 14 }
  expect(sayStrike({ ...measured, estimated }, clock, presets.us)).toBe(
    "landed: bluefish, 22.5 in, 3.0 lb estimated from 14 weighed fish, not weighed, released",
  )
})

describe("conditions", () => {
  const carried = "carried from 42 min before"
  const conditions = [
    { factor: "water_temp_c", value: 21.67, source: carried },
    { factor: "wind_dir_deg", value: 225, source: "seen" },
    { factor: "cloud_okta", value: 3, source: "instrument" },
    { factor: "barometer_3h_hpa", value: -3.9, source: "instrument" },
    { factor: "tide_stage", value: "rising", source: "2026.1" },
    { factor: "tide_phase_rad", value: 1, source: "2026.1" },
  ]

  test("of a stint are told in the reader's units with their sources", () => {
    // 21.67 degC are 71.006 degF: t/degF = 1.8 t/degC + 32, NIST SP 811 (2008), Appendix B.8.
    // Compass: 225 degrees are south-west (sixteen points, common practice).
    expect(sayConditions(conditions, presets.us)).toEqual([
      { label: "Water temperature", value: "71.0 °F", source: carried },
      { label: "Wind direction", value: "from SW", source: "seen" },
      { label: "Cloud", value: "3 of 8", source: "by instrument" },
      { label: "Barometer over 3 h", value: "-0.12 inHg, falling quickly", source: "by instrument" },
      { label: "Tide", value: "rising", source: "worked out" },
    ])
  })

  test("salinity has its word beside it, for a stint and over a day", () => {
    // Zones of the Venice System, checked in tests/reference/weather.test.ts.
    const salinity = (value: number) => [{ factor: "salinity_psu", value, source: "seen" }]
    expect(sayConditions(salinity(12.4), presets.us)[0]?.value).toBe("12.4 psu, brackish (mesohaline)")
    const over = (...values: number[]) =>
      sayDayConditions(
        page({ stops: [stop(values.map((value) => stint({ conditions: salinity(value) })))] }),
        presets.us,
      ).observed[0]?.value
    expect(over(12.4, 24)).toBe("12.4 to 24.0 psu, brackish (mesohaline to polyhaline)")
    expect(over(31, 31)).toBe("31.0 psu, sea water (euhaline)")
  })

  test("of a day run from least to most, with the stints they are known for", () => {
    const later = [
      { factor: "water_temp_c", value: 20, source: "seen" },
      { factor: "tide_stage", value: "high stand", source: "imported" },
    ]
    const day = page({
      stops: [stop([stint({ conditions }), stint({ conditions: later })]), stop([stint()])],
    })
    const { observed, workedOut } = sayDayConditions(day, presets.metric)
    expect(observed[0]).toMatchObject({ value: "20.0 to 21.7 °C", source: "carried and seen", of: 2 })
    expect(workedOut).toMatchObject([
      { value: "rising and high stand", source: "worked out and imported", of: 2 },
    ])
  })
})

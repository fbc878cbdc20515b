// Moonrise, moonset, transit, phases and age against the Naval Observatory and PyEphem; each case names its source in
// tests/reference/cases/conditions/06-moon.json. The lit fraction is checked in sky.test.ts, but for that of the days
// here; so is the distance. The moon's ecliptic coordinates are not shown anywhere in the product and not checked.
import { expect, test } from "vitest"
import { z } from "zod"
import { localDay } from "../../core/conditions/localClock.ts"
import { moonAge, moonAt } from "../../core/conditions/moon.ts"
import { moonDay } from "../../core/conditions/moonDay.ts"
import {
  clockTime,
  greenwichDayCase,
  localDayCase,
  minutesApart,
  skyCases,
  yearTableCase,
} from "./skyCases.ts"

const instants = ["rise", "set", "transit"] as const
const usnoNames = { rise: "Rise", set: "Set", transit: "Upper Transit" } as const
const dayMs = 86_400_000

test.each(skyCases("06-moon", "moon-times", greenwichDayCase))(
  "the moon keeps the Naval Observatory's times: $id",
  ({ inputs, expected, tolerance }) => {
    const moon = moonDay(inputs.utc_date, "UTC", inputs)
    for (const name of instants) {
      const time = clockTime(inputs.utc_date, expected.utc_hhmm[usnoNames[name]])
      if (name === "transit" && time === null) continue // The almanac names none of a moon that is down.
      expect(minutesApart(moon[name], time), name).toBeLessThanOrEqual(tolerance.minutes)
    }
    const { moon_illum } = moonAt(Date.parse(`${inputs.utc_date}T12:00Z`))
    expect(
      Math.abs(100 * moon_illum - (expected.illuminated_percent_usno ?? Number.NaN)),
    ).toBeLessThanOrEqual(tolerance.percent ?? Number.NaN)
  },
)

const table = () => {
  const [only] = skyCases("06-moon", "moon-times-table", yearTableCase)
  if (only === undefined) throw new Error("no case")
  return only
}

test("the moon keeps the Naval Observatory's year table, and days without a rise or a set have none", () => {
  const { inputs, expected, tolerance } = table()
  expect(expected.rows.filter(({ rise }) => rise === null).length).toBeGreaterThan(4)
  expect(expected.rows.some(({ set }) => set === null)).toBe(true)
  for (const { date, rise, set } of expected.rows) {
    const moon = moonDay(date, inputs.iana_zone, inputs)
    const time = (clock: string | null) => clockTime(date, clock, inputs.utc_offset_min)
    expect(minutesApart(moon.rise, time(rise)), date).toBeLessThanOrEqual(tolerance.minutes)
    expect(minutesApart(moon.set, time(set)), date).toBeLessThanOrEqual(tolerance.minutes)
  }
})

test("moon times are those of the local day, not of the UTC day", () => {
  // Both rows of the table hold a time that the library's UTC day of that date has not: its rise falls on the UTC day after
  // (8 August 23:46 at 7 h west), its set likewise (21 June 22:55).
  const { inputs, expected } = table()
  for (const [date, name] of [
    ["2023-08-08", "rise"],
    ["2023-06-21", "set"],
  ] as const) {
    const time = clockTime(
      date,
      expected.rows.find((row) => row.date === date)?.[name],
      inputs.utc_offset_min,
    )
    const { start, end } = localDay(date, inputs.iana_zone)
    const got = moonDay(date, inputs.iana_zone, inputs)[name]
    expect(minutesApart(got, time)).toBeLessThan(1.2) // the table's tolerance
    expect(got).toBeGreaterThanOrEqual(start)
    expect(got).toBeLessThan(end)
    expect(new Date(got ?? 0).toISOString().slice(0, 10)).not.toBe(date)
  }
})

test.each(skyCases("06-moon", "moon-local-day", localDayCase(instants)))(
  "the moon's times are those of the local civil day: $id",
  ({ inputs, expected, tolerance }) => {
    const moon = moonDay(inputs.local_date, inputs.iana_zone, inputs)
    for (const name of instants) {
      const time = expected[name] === null ? null : Date.parse(expected[name])
      // The case allows a transit 10 min because the highest point may be that far from the meridian; ours is the meridian.
      expect(minutesApart(moon[name], time), name).toBeLessThanOrEqual(tolerance.minutes)
    }
  },
)

test("of two rises in one day the first is given, and the second to the zone in whose day it is the first", () => {
  // High in the north the moon may rise again within 24 h (22 h 58 min here), which a search that stops at a UTC day's
  // first rise loses for every zone. Between the two it sets.
  const at = { lat: 66, lon: 20 }
  const first = moonDay("2024-05-08", "UTC", at).rise ?? Number.NaN
  const second = moonDay("2024-05-09", "Etc/GMT-6", at).rise ?? Number.NaN
  const { start, end } = localDay("2024-05-08", "UTC")
  expect(first).toBeGreaterThanOrEqual(start)
  expect(second).toBeLessThan(end)
  expect(second - first).toBeGreaterThan(22 * 3_600_000)
  const { set } = moonDay("2024-05-08", "UTC", at)
  expect(set).toBeGreaterThan(first)
  expect(set).toBeLessThan(second)
})

const Phases = z.object({
  expected: z.object({ phases: z.array(z.object({ kind: z.string(), utc: z.string() })) }),
  tolerance: z.object({ minutes: z.number() }),
})
const phaseAngle: Readonly<Record<string, number>> = {
  new: 0,
  "first quarter": Math.PI / 2,
  full: Math.PI,
  "last quarter": 1.5 * Math.PI,
}
const [phaseCase] = skyCases("06-moon", "moon-phases", Phases)
const minutes = phaseCase?.tolerance.minutes ?? Number.NaN
const phases = [
  ...(phaseCase?.expected.phases ?? []),
  // US Naval Observatory, phases of 2018, in 06-moon.json (moon-usno-2018).
  { kind: "first quarter", utc: "2018-09-16T23:15Z" },
  { kind: "full", utc: "2018-09-25T02:52Z" },
]

test("each phase falls within ten minutes of its instant, new and full moon too", () => {
  expect(phases.length).toBeGreaterThan(30)
  for (const { kind, utc } of phases) {
    const past = (at: number) => {
      const off = moonAt(at).moon_phase_rad - (phaseAngle[kind] ?? Number.NaN)
      return Math.atan2(Math.sin(off), Math.cos(off))
    }
    expect(past(Date.parse(utc) - minutes * 60_000), utc).toBeLessThan(0)
    expect(past(Date.parse(utc) + minutes * 60_000), utc).toBeGreaterThan(0)
  }
})

test("the moon's age counts from the last new moon, not by stretching its phase", () => {
  const newMoons = phases.filter(({ kind }) => kind === "new").map(({ utc }) => Date.parse(utc))
  expect(newMoons.length).toBeGreaterThan(7)
  for (const [i, from] of newMoons.entries()) {
    const next = newMoons[i + 1] ?? from + 29 * dayMs
    const quarter = (next - from) / 4
    for (const at of [from + 600_000, from + quarter, from + 2 * quarter, from + 3 * quarter, next - 600_000])
      expect(Math.abs(moonAge(at) - (at - from) / dayMs) * 1440).toBeLessThan(minutes)
  }
})

test("age begins anew at the new moon and never leaves 0 to 29.9 days", () => {
  // The longest month of phases is 29.84 days (Meeus 1998, chapter 49, from memory).
  for (let at = Date.UTC(2020, 0, 1); at < Date.UTC(2030, 0, 1); at += 0.73 * dayMs) {
    const age = moonAge(at)
    expect(age).toBeGreaterThanOrEqual(0)
    expect(age).toBeLessThan(29.9)
    const hourOn = moonAge(at + 3_600_000)
    const anHourOlder = Math.abs(hourOn - age - 1 / 24) < 1e-5 // within a second
    expect(anHourOlder || hourOn < 1 / 24, new Date(at).toISOString()).toBe(true)
  }
})

// The sun's rise, set, civil and nautical twilight and transit against the Naval Observatory, PyEphem and Meeus; each case names its
// source in tests/reference/cases/conditions/05-sun.json. Positions are checked in sky.test.ts. The distance of the sun and its
// geocentric longitude are not worked out by the product and not checked.
import { expect, test } from "vitest"
import { z } from "zod"
import { lightUnder } from "../../core/conditions/light.ts"
import { localDay } from "../../core/conditions/localClock.ts"
import { sunPosition } from "../../core/conditions/sun.ts"
import { sunDay, type SunDay } from "../../core/conditions/sunDay.ts"
import {
  clockTime,
  greenwichDayCase,
  localDayCase,
  minutesApart,
  place,
  skyCases,
  yearTableCase,
} from "./skyCases.ts"

const instants = ["rise", "set", "civil_dawn", "civil_dusk", "transit"] as const
const allInstants = [...instants, "nautical_dawn", "nautical_dusk"] as const
const hourMs = 3_600_000

const sunNames = {
  rise: "sunrise",
  set: "sunset",
  civil_dawn: "civil_dawn",
  civil_dusk: "civil_dusk",
  transit: "transit",
} as const

test.each(skyCases("05-sun", "sun-times", greenwichDayCase))(
  "the sun keeps the Naval Observatory's times: $id",
  ({ inputs, expected: { utc_hhmm, usno_remarks }, tolerance: { minutes } }) => {
    const sun = sunDay(inputs.utc_date, "UTC", inputs)
    const { start } = localDay(inputs.utc_date, "UTC")
    for (const name of instants) {
      const time = clockTime(inputs.utc_date, utc_hhmm[sunNames[name]])
      // The almanac names no transit of a sun that is down, and has 00:00 for what is seconds before midnight.
      if (name === "transit" && time === null) continue
      const got = sun[name] === null && time === start ? dayBefore(inputs.utc_date, inputs)[name] : sun[name]
      expect(minutesApart(got, time), name).toBeLessThanOrEqual(minutes)
    }
    const says = (where: string) => usno_remarks.includes(`Object continuously ${where} the Horizon`)
    expect(sun.polar).toBe(says("above") ? "day" : says("below") ? "night" : null)
  },
)

const dayBefore = (date: string, at: { lat: number; lon: number }): SunDay =>
  sunDay(new Date(Date.parse(date) - 24 * hourMs).toISOString().slice(0, 10), "UTC", at)

test("the sun keeps the Naval Observatory's year table, in local standard time", () => {
  const [table] = skyCases("05-sun", "sun-times-table", yearTableCase)
  const { inputs, expected, tolerance } = table ?? fail()
  expect(expected.rows.length).toBeGreaterThan(8)
  for (const { date, rise, set } of expected.rows) {
    const sun = sunDay(date, inputs.iana_zone, inputs)
    const time = (clock: string | null) => clockTime(date, clock, inputs.utc_offset_min)
    expect(minutesApart(sun.rise, time(rise)), date).toBeLessThanOrEqual(tolerance.minutes)
    expect(minutesApart(sun.set, time(set)), date).toBeLessThanOrEqual(tolerance.minutes)
  }
})

const fail = (): never => {
  throw new Error("no case")
}

const localDays = skyCases("05-sun", "sun-local-day", localDayCase(allInstants))

test.each(localDays)(
  "the sun's times are those of the local civil day: $id",
  ({ inputs, expected, tolerance }) => {
    const sun = sunDay(inputs.local_date, inputs.iana_zone, inputs)
    for (const name of allInstants) {
      const time = expected[name] === null ? null : Date.parse(expected[name])
      expect(minutesApart(sun[name], time), name).toBeLessThanOrEqual(tolerance.minutes)
    }
  },
)

const LocalNoon = z.object({
  id: z.string(),
  inputs: z.object({ ...place, iana_zone: z.string(), local_date: z.string() }),
  expected: z.object({
    polar: z.enum(["day", "night"]).nullable(),
    local_day_hours: z.number(),
    at_local_noon_clock: z.object({
      utc: z.string(),
      altitude_geometric_deg: z.number(),
      azimuth_deg: z.number(),
    }),
  }),
  tolerance: z.object({ degrees: z.number() }),
})

test.each(skyCases("05-sun", "sun-local-day", LocalNoon))(
  "length of the day, polar day or night, and the sun at noon by the clock: $id",
  ({ inputs: { local_date, iana_zone, lat, lon }, expected, tolerance }) => {
    const { start, end } = localDay(local_date, iana_zone)
    expect((end - start) / hourMs).toBe(expected.local_day_hours)
    expect(sunDay(local_date, iana_zone, { lat, lon }).polar).toBe(expected.polar)
    const noon = expected.at_local_noon_clock
    const sun = sunPosition(Date.parse(noon.utc), { lat, lon })
    expect(Math.abs(sun.altitude_deg - noon.altitude_geometric_deg)).toBeLessThanOrEqual(tolerance.degrees)
    expect(Math.abs(sun.azimuth_deg - noon.azimuth_deg)).toBeLessThanOrEqual(tolerance.degrees)
  },
)

test("declination and equation of time are those of Meeus' example", () => {
  const Meeus = z.object({
    tolerance: z.object({ declination_deg: z.number(), equation_of_time_s: z.number() }),
  })
  const [meeus] = skyCases("05-sun", "sun-geocentric", Meeus)
  const { tolerance } = meeus ?? fail()
  // Meeus (1998) example 25.a and 28.b: 1992 October 13, 0h dynamical time, 59 s ahead of UTC (the case).
  const at = Date.UTC(1992, 9, 13) - 59_000
  // Seen from the pole, the altitude is the declination: -7 deg 47' 06".
  const declination = -(7 + 47 / 60 + 6 / 3600)
  expect(Math.abs(sunPosition(at, { lat: 90, lon: 0 }).altitude_deg - declination)).toBeLessThan(
    tolerance.declination_deg,
  )
  // Equation of time +13 min 42.7 s at 0h, growing 14 s a day (the case's note): solar noon at Greenwich is 12:00 less what
  // it has come to by then. Of the 2 s allowed, 1 s goes on the library's mean sidereal time, which leaves out nutation.
  const { transit } = sunDay("1992-10-13", "UTC", { lat: 51.4779, lon: 0 })
  const early = (Date.parse("1992-10-13T12:00Z") - (transit ?? Number.NaN)) / 1000
  expect(Math.abs(early - (13 * 60 + 42.7 + (14 * 11.77) / 24))).toBeLessThan(tolerance.equation_of_time_s)
})

test("all instants fall into the local civil day, also where the zone is far from the sun", () => {
  const days = [
    ["2024-03-10", "America/New_York", 31.4, -81.28],
    ["2024-11-03", "America/New_York", 31.4, -81.28],
    ["2026-05-15", "Pacific/Kiritimati", 1.87, -157.4],
    ["2026-05-15", "UTC", 31.4, 151.2],
    ["2026-05-15", "Etc/GMT+12", 31.4, 179.9],
    ["2018-11-04", "America/Sao_Paulo", -23.55, -46.63],
  ] as const
  for (const [date, zone, lat, lon] of days) {
    const { start, end } = localDay(date, zone)
    const sun = sunDay(date, zone, { lat, lon })
    for (const name of allInstants) {
      expect(sun[name], `${zone} ${name}`).toBeGreaterThanOrEqual(start)
      expect(sun[name], `${zone} ${name}`).toBeLessThan(end)
    }
  }
})

test("across the date line noon is the local day's own, not that of the sun's day", () => {
  // Kiritimati is 14 h ahead of UTC at 157.4 degrees west, so its solar noon falls at 12:00 + 10 h 29.6 min UTC of the day
  // before, less the equation of time: +3.7 min in mid-May (from memory, any almanac). Half a minute is for that figure.
  const { transit } = sunDay("2026-05-15", "Pacific/Kiritimati", { lat: 1.87, lon: -157.4 })
  expect(minutesApart(transit, Date.parse("2026-05-14T22:25:54Z"))).toBeLessThan(0.5)
})

test("every set belongs to one local day, though days around it be short, long or left out", () => {
  const zones = [
    ["America/New_York", "2024-03-09", "2024-03-10", "2024-03-11", "2024-03-12"],
    ["America/New_York", "2024-11-02", "2024-11-03", "2024-11-04", "2024-11-05"],
    ["Pacific/Apia", "2011-12-28", "2011-12-29", "2011-12-31", "2012-01-01"],
  ] as const
  for (const [zone, ...dates] of zones) {
    const sets = dates.map((date) => sunDay(date, zone, { lat: -13.8, lon: -171.8 }).set ?? Number.NaN)
    for (const [i, set] of sets.slice(1).entries())
      // The sun sets a minute earlier or later a day at most that near the equator.
      expect(Math.abs(set - (sets[i] ?? Number.NaN) - 24 * hourMs)).toBeLessThan(60_000)
  }
})

test("a day that the calendar left out, and what is no date, is refused in words", () => {
  // Samoa went from 29 to 31 December 2011 (IANA time zone database, file australasia).
  const apia = { lat: -13.8, lon: -171.8 }
  expect(() => sunDay("2011-12-30", "Pacific/Apia", apia)).toThrow(/There was no 2011-12-30 in Pacific\/Apia/)
  for (const date of ["2026-02-30", "15.5.2026", "2026-05-15T00:00Z", ""])
    expect(() => sunDay(date, "UTC", apia)).toThrow(/is not a date/)
})

test("polar night and polar day have no rise and no set, and say which they are", () => {
  // Tromso, US Naval Observatory (05-sun.json, sun-usno-Tromsø): below the horizon on 21 December, above it on 21 June.
  const tromso = { lat: 69.6489, lon: 18.95508 }
  expect(sunDay("2026-12-21", "Europe/Oslo", tromso)).toMatchObject({ rise: null, set: null, polar: "night" })
  expect(sunDay("2026-12-21", "Europe/Oslo", tromso).civil_dawn).not.toBeNull()
  expect(sunDay("2026-06-21", "Europe/Oslo", tromso)).toMatchObject({
    rise: null,
    set: null,
    civil_dawn: null,
    civil_dusk: null,
    nautical_dawn: null,
    nautical_dusk: null,
    polar: "day",
  })
})

test("in a summer night that is never dark the sun rises and sets, but no civil twilight begins or ends", () => {
  // At 63 degrees north the midsummer sun sinks to 90 - 63 - 23.44 = 3.6 degrees below the horizon: geometry.
  const sun = sunDay("2026-06-21", "Europe/Oslo", { lat: 63, lon: 10.4 })
  expect(sun).toMatchObject({ civil_dawn: null, civil_dusk: null, polar: null })
  expect(sun.rise).not.toBeNull()
  expect(sun.set).not.toBeNull()
})

test("the last sunset before the midnight sun may come before the rise, or be the only one", () => {
  // Where the sun hardly sets, its set moves past midnight into the next day, so that some day has none and some has two.
  const tromso = { lat: 69.6489, lon: 18.95508 }
  const may = Array.from({ length: 31 }, (_, i) =>
    sunDay(`2026-05-${String(i + 1).padStart(2, "0")}`, "Europe/Oslo", tromso),
  )
  expect(may.some(({ rise, set }) => rise !== null && set !== null && set < rise)).toBe(true)
  expect(may.some(({ rise, set, polar }) => (rise === null) !== (set === null) && polar === null)).toBe(true)
})

test("light and times tell the same: day from the instant of the rise to that of the set", () => {
  const at = { lat: 31.13, lon: -81.4 }
  const { rise, set, civil_dawn, civil_dusk } = sunDay("2026-05-15", "America/New_York", at)
  const light = (instant: number | null, ms: number) => lightUnder(sunPosition((instant ?? fail()) + ms, at))
  expect([light(civil_dawn, -1), light(civil_dawn, 0)]).toEqual(["night", "first light"])
  expect([light(rise, -1), light(rise, 0)]).toEqual(["first light", "day"])
  expect([light(set, -1), light(set, 0)]).toEqual(["day", "last light"])
  expect([light(civil_dusk, -1), light(civil_dusk, 0)]).toEqual(["last light", "night"])
})

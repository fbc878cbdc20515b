// A stint's local hour, light and day, whichever way its instant is written and whatever the clocks do just then. The zones'
// rules are those of the IANA time zone database, as Intl has them: another implementation than the one used in the product.
import fc from "fast-check"
import { getMoonIllumination } from "suncalc"
import { expect, test } from "vitest"
import { lightUnder } from "../../../core/conditions/light.ts"
import { localDate, localDay, localHour } from "../../../core/conditions/localClock.ts"
import { moonAge, moonAt } from "../../../core/conditions/moon.ts"
import { sunPosition } from "../../../core/conditions/sun.ts"
import { sunDay } from "../../../core/conditions/sunDay.ts"

const hour = 3_600_000
const zones = [
  "America/New_York",
  "America/Chicago",
  "America/Phoenix",
  "America/St_Johns",
  "America/Adak",
  "Pacific/Honolulu",
  "Pacific/Apia",
  "Europe/London",
  "Africa/Casablanca",
  "Asia/Kathmandu",
  "Australia/Lord_Howe",
  "Etc/GMT+5",
  "UTC",
]
const zone = fc.constantFrom(...zones)

/** Clock and date by Intl: local time read as if it were UTC, ms. */
const clocks = new Map(
  zones.map((name) => [
    name,
    new Intl.DateTimeFormat("en-US-u-hc-h23", {
      timeZone: name,
      year: "numeric",
      month: "numeric",
      day: "numeric",
      hour: "numeric",
      minute: "numeric",
      second: "numeric",
    }),
  ]),
)
function wallClock(at: number, name: string): number {
  const parts = clocks.get(name)?.formatToParts(at) ?? []
  const part = (type: string) => Number(parts.find((one) => one.type === type)?.value)
  return Date.UTC(part("year"), part("month") - 1, part("day"), part("hour"), part("minute"), part("second"))
}

/** Instants in whole seconds: half of them anywhere from 1970 to 2050, half within hours of a clock change of 2024. */
const change = fc.constantFrom(
  Date.UTC(2024, 2, 10, 7),
  Date.UTC(2024, 10, 3, 6),
  Date.UTC(2024, 2, 31, 1),
  Date.UTC(2024, 3, 6, 15),
)
const instant = fc.oneof(
  fc.integer({ min: 0, max: Date.UTC(2050, 0, 1) / 1000 }).map((s) => s * 1000),
  fc.tuple(change, fc.integer({ min: -18_000, max: 18_000 })).map(([at, s]) => at + s * 1000),
)

test("the local hour and date are those of a watch on the spot", () => {
  fc.assert(
    fc.property(zone, instant, (name, at) => {
      const clock = wallClock(at, name)
      const midnight = Math.floor(clock / (24 * hour)) * 24 * hour
      expect(localHour(at, name)).toBeCloseTo((clock - midnight) / hour, 9) // only rounding is left
      expect(localDate(at, name)).toBe(new Date(clock).toISOString().slice(0, 10))
    }),
    { numRuns: 4000, seed: 1883 },
  )
})

test("on the night the clocks go back the same hour comes twice, and when they go forward one is left out", () => {
  const hoursOf = (...texts: string[]) => texts.map((text) => localHour(Date.parse(text), "America/New_York"))
  expect(
    hoursOf("2024-11-03T01:30-04:00", "2024-11-03T05:30Z", "2024-11-03T01:30-05:00", "2024-11-03T06:30Z"),
  ).toEqual([1.5, 1.5, 1.5, 1.5])
  const [last = 0, next] = hoursOf("2024-03-10T06:59:59.999Z", "2024-03-10T07:00Z")
  expect([last < 2, last > 1.9999, next]).toEqual([true, true, 3])
})

test("before time zones, and a hundred years on, an hour is between 0 and 24", () => {
  const far = fc.integer({ min: Date.UTC(1700, 0, 1), max: Date.UTC(2200, 0, 1) })
  fc.assert(
    fc.property(zone, far, (name, at) => {
      const told = localHour(at, name)
      expect(told).toBeGreaterThanOrEqual(0)
      expect(told).toBeLessThan(24)
    }),
    { numRuns: 1000, seed: 1700 },
  )
})

test("an unknown zone is refused each time it is asked for", () => {
  for (let i = 0; i < 2; i++) expect(() => localHour(0, "Mars/Crater")).toThrow(RangeError)
})

const place = { lat: 31.39, lon: -81.288 }

test("sunrise and sunset are where the light changes, on days of 23, 24 and 25 hours", () => {
  for (const date of ["2024-03-10", "2024-06-20", "2024-11-03"]) {
    const day = localDay(date, "America/New_York")
    const { rise, set, civil_dawn, civil_dusk } = sunDay(date, "America/New_York", place)
    const lightAt = (at: number | null) => lightUnder(sunPosition(at ?? Number.NaN, place))
    for (const [at, before, after] of [
      [civil_dawn, "night", "first light"],
      [rise, "first light", "day"],
      [set, "day", "last light"],
      [civil_dusk, "last light", "night"],
    ] as const) {
      expect(at).toBeGreaterThanOrEqual(day.start)
      expect(at).toBeLessThan(day.end)
      expect([lightAt((at ?? 0) - 1), lightAt(at)]).toEqual([before, after])
    }
  }
})

test("the sun of a place does not depend on whose clock its day is counted by", () => {
  const { rise: here } = sunDay("2024-11-03", "America/New_York", place)
  const { rise: inUtc } = sunDay("2024-11-03", "UTC", place)
  const { rise: inAuckland } = sunDay("2024-11-03", "Pacific/Auckland", place)
  expect(inUtc).toBe(here) // 06:43 in Georgia is 11:43 UTC of that day
  // It is 00:43 of the next in Auckland, so that this day's rise there is the one before.
  expect(Math.abs((here ?? 0) - (inAuckland ?? 0) - 24 * hour)).toBeLessThan(3 * 60_000)
})

test("the moon between noon and midnight of its table is the library's own to two millionths", () => {
  const when = fc.integer({ min: Date.UTC(1900, 0, 1), max: Date.UTC(2100, 0, 1) })
  fc.assert(
    fc.property(when, (at) => {
      const { moon_illum, moon_phase_rad } = moonAt(at)
      expect(Math.abs(moon_illum - getMoonIllumination(new Date(at)).fraction)).toBeLessThan(2e-6)
      expect(moon_phase_rad).toBeGreaterThanOrEqual(0)
      expect(moon_phase_rad).toBeLessThan(2 * Math.PI)
    }),
    { numRuns: 2000, seed: 29 },
  )
})

test("the phase starts again where the age does", () => {
  const when = fc.integer({ min: Date.UTC(1990, 0, 1), max: Date.UTC(2050, 0, 1) })
  fc.assert(
    fc.property(when, (at) => {
      const newMoon = at - moonAge(at) * 24 * hour
      const { moon_phase_rad } = moonAt(newMoon)
      // The age is told to some seconds, in which the moon goes 1e-5 rad.
      expect(Math.min(moon_phase_rad, 2 * Math.PI - moon_phase_rad)).toBeLessThan(1e-4)
    }),
    { numRuns: 200, seed: 29 },
  )
})

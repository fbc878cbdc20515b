import { expect, test } from "vitest"
import { localHour } from "../../../core/conditions/localClock.ts"
import { zoneAt } from "../../../core/conditions/zoneAt.ts"

// Common geography (from memory); zone names of the IANA time zone database.
test.each([
  ["Savannah, Georgia", 32.08, -81.09, "America/New_York"],
  ["Pensacola, Florida, west of the line between Eastern and Central time", 30.42, -87.21, "America/Chicago"],
  ["Galveston, Texas", 29.3, -94.79, "America/Chicago"],
  ["Phoenix, Arizona, without summer time", 33.45, -112.07, "America/Phoenix"],
  ["Adak, Alaska", 51.88, -176.65, "America/Adak"],
  ["Honolulu, Hawaii", 21.31, -157.86, "Pacific/Honolulu"],
  ["London", 51.51, -0.13, "Europe/London"],
  ["Kathmandu, 5 h 45 min ahead", 27.71, 85.32, "Asia/Kathmandu"],
  ["Melbourne, south of the equator", -37.81, 144.96, "Australia/Melbourne"],
  ["Kiritimati, west of the sun's date line, east of the calendar's", 1.87, -157.4, "Pacific/Kiritimati"],
  ["Apia, Samoa", -13.83, -171.77, "Pacific/Apia"],
  ["Suva, Fiji", -18.14, 178.44, "Pacific/Fiji"],
])("%s has its zone", (_, lat, lon, zone) => {
  expect(zoneAt({ lat, lon })).toBe(zone)
})

test("the open sea has a nautical zone, whole hours by its longitude", () => {
  // A nautical zone is 15 degrees wide about its meridian; Etc/GMT+2 is two hours behind UTC (IANA, file etcetera).
  expect(zoneAt({ lat: 35, lon: -30 })).toBe("Etc/GMT+2")
  expect(zoneAt({ lat: -45, lon: -110 })).toBe("Etc/GMT+7")
  expect(zoneAt({ lat: -30, lon: 90 })).toBe("Etc/GMT-6")
})

test("every zone it can name is known to the clock, at the ends of the earth too", () => {
  const zones = new Set<string>()
  for (let lat = -90; lat <= 90; lat += 1)
    for (let lon = -180; lon <= 180; lon += 1) zones.add(zoneAt({ lat, lon }))
  expect(zones.size).toBeGreaterThan(250)
  for (const zone of zones) expect(localHour(0, zone), zone).toBeGreaterThanOrEqual(0)
})

test("no place off the earth has a zone", () => {
  for (const [lat, lon] of [
    [91, 0],
    [0, 181],
    [Number.NaN, 0],
  ] as const)
    expect(() => zoneAt({ lat, lon })).toThrow(RangeError)
})

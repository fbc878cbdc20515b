// Sun, light and moon at an instant against almanac values; each case names its source in tests/reference/cases/conditions.
// Of 05-sun the positions are checked here, of 06-moon the lit fraction and the distance, of 07-light everything. Rises, sets,
// transits and phases are checked in sunDay.test.ts and moonDay.test.ts.
import { expect, test } from "vitest"
import { z } from "zod"
import { lightUnder } from "../../core/conditions/light.ts"
import { moonAt, moonDistance } from "../../core/conditions/moon.ts"
import { sunPosition } from "../../core/conditions/sun.ts"
import { place, skyCases } from "./skyCases.ts"

const Position = z.object({
  id: z.string(),
  inputs: z.object(place),
  expected: z.object({
    positions: z.array(
      z.object({ utc: z.string(), azimuth_deg: z.number(), altitude_apparent_deg: z.number() }),
    ),
  }),
  tolerance: z.object({
    altitude_deg: z.number(),
    altitude_deg_below_plus_1: z.number(),
    azimuth_deg: z.number(),
  }),
})

/** Horizons prints refracted altitudes, ours are true ones. Meeus (1998) 16.4, degrees; below the horizon that of the horizon. */
function refraction(altitude: number): number {
  const h = Math.max(0, altitude)
  return 1.02 / Math.tan(((h + 10.3 / (h + 5.11)) * Math.PI) / 180) / 60
}

const positions = skyCases("05-sun", "sun-position", Position)

test.each(positions)("the sun stands where JPL Horizons puts it: $id", ({ inputs, expected, tolerance }) => {
  for (const { utc, azimuth_deg, altitude_apparent_deg } of expected.positions) {
    const sun = sunPosition(Date.parse(utc), inputs)
    expect(Math.abs(sun.azimuth_deg - azimuth_deg)).toBeLessThan(tolerance.azimuth_deg)
    const above = altitude_apparent_deg > 1
    const within = above ? tolerance.altitude_deg : tolerance.altitude_deg_below_plus_1
    expect(Math.abs(sun.altitude_deg + refraction(sun.altitude_deg) - altitude_apparent_deg)).toBeLessThan(
      within,
    )
  }
})

const LightCase = z.object({
  id: z.string(),
  inputs: z.object({ ...place, utc: z.string() }),
  expected: z.object({
    word: z.string(),
    altitude_geometric_deg: z.number(),
    sun_rising: z.boolean(),
    azimuth_deg: z.number(),
  }),
  tolerance: z.object({ altitude_deg: z.number(), azimuth_deg: z.number() }),
})
const lightCases = skyCases("07-light", "light-period", LightCase)

test.each(lightCases)("the light is the one of the almanac's sun: $id", ({ inputs, expected, tolerance }) => {
  const sun = sunPosition(Date.parse(inputs.utc), inputs)
  expect(lightUnder(sun)).toBe(expected.word)
  expect(sun.climbing).toBe(expected.sun_rising)
  expect(Math.abs(sun.altitude_deg - expected.altitude_geometric_deg)).toBeLessThan(tolerance.altitude_deg)
  expect(Math.abs(sun.azimuth_deg - expected.azimuth_deg)).toBeLessThan(tolerance.azimuth_deg)
})

test("civil dusk is told by the true altitude, not by the library's lifted one", () => {
  const Trap = z.object({ inputs: z.object(place) })
  const [trap] = skyCases("07-light", "light-trap", Trap)
  if (trap === undefined) throw new Error("no case")
  // The minute in which the true altitude passes -6: 152 s before the library's own reading does (the case).
  const noon = Date.UTC(2026, 4, 15, 17)
  const seconds = Array.from({ length: 12 * 3600 }, (_, s) => noon + s * 1000)
  const dusk = seconds.find((at) => lightUnder(sunPosition(at, trap.inputs)) === "night") ?? 0
  expect(sunPosition(dusk, trap.inputs).altitude_deg).toBeCloseTo(-6, 2)
  const lifted = seconds.find((at) => sunPosition(at, trap.inputs).altitude_deg + 0.4845 < -6) ?? 0
  expect(Math.abs((lifted - dusk) / 1000 - 152)).toBeLessThanOrEqual(5)
})

test("the moon is lit as JPL Horizons, the Naval Observatory and Meeus have it", () => {
  const Rows = z.object({
    expected: z
      .object({ rows: z.array(z.object({ utc: z.string(), fraction: z.number() })).optional() })
      .loose(),
  })
  const rows = skyCases("06-moon", "moon-illumination", Rows).flatMap(({ expected }) => expected.rows ?? [])
  expect(rows.length).toBeGreaterThan(10)
  for (const { utc, fraction } of rows)
    expect(Math.abs(moonAt(Date.parse(utc)).moon_illum - fraction)).toBeLessThan(0.003)
  const days = [0, 0, 0.03, 0.08, 0.15, 0.24, 0.33, 0.43, 0.52, 0.62]
  for (const [i, lit] of days.entries())
    expect(Math.abs(moonAt(Date.UTC(2018, 8, 9 + i, 5)).moon_illum - lit)).toBeLessThan(0.006)
  expect(Math.abs(moonAt(Date.parse("1992-04-12T00:00:00Z")).moon_illum - 0.6786)).toBeLessThan(0.003)
})

test("the moon is as far away as JPL Horizons and Meeus have it", () => {
  const Far = z.object({ distance_km: z.number() })
  const [horizons, meeus] = ["moon-jpl-fraction-dev", "moon-meeus-48a"].map((id) =>
    skyCases("06-moon", "moon-illumination", z.looseObject({ id: z.string() })).find((one) => one.id === id),
  )
  const rows = z
    .object({
      expected: z.object({ rows: z.array(Far.extend({ utc: z.string() })) }),
      tolerance: Far,
    })
    .parse(horizons)
  // Example 47.a of Meeus (1998): 1992 April 12, 0h dynamical time, 59 s ahead of UTC, in which the moon moves by a kilometre.
  const example = z.object({ expected: Far, tolerance: Far }).parse(meeus)
  const all = [...rows.expected.rows, { utc: "1992-04-11T23:59:01Z", ...example.expected }]
  expect(all.length).toBeGreaterThan(20)
  for (const { utc, distance_km } of all)
    expect(Math.abs(moonDistance(Date.parse(utc)) - distance_km), utc).toBeLessThanOrEqual(
      Math.min(rows.tolerance.distance_km, example.tolerance.distance_km),
    )
})

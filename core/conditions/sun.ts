import { getPosition } from "suncalc"
import type { Place } from "./place.ts"

/**
 * The sun as seen from a place: altitude of its centre above the horizon without refraction, azimuth clockwise from
 * north, degrees; and whether it climbs.
 */
export type SunPosition = {
  readonly altitude_deg: number
  readonly azimuth_deg: number
  readonly climbing: boolean
}

const degrees = Math.PI / 180
const minuteMs = 60_000
/** Where the sun's own motion cannot undo what the turning earth does to its altitude: a hundredth of a right angle about. */
const plainly = 0.01

/** The sun's position at an instant in UTC ms. Source: suncalc 2; its refraction is taken off again (see `geometric`). */
export function sunPosition(at: number, place: Place): SunPosition {
  const { altitude, azimuth } = getPosition(new Date(at), place.lat, place.lon)
  const eastward = Math.cos(place.lat * degrees) * Math.cos(altitude * degrees) * Math.sin(azimuth * degrees)
  const climbing =
    Math.abs(eastward) > plainly
      ? eastward > 0
      : getPosition(new Date(at + minuteMs), place.lat, place.lon).altitude > altitude
  return { altitude_deg: geometric(altitude), azimuth_deg: azimuth, climbing }
}

/** Refraction in degrees at a true altitude: Meeus (1998) Astronomical Algorithms 16.4, held at the horizon's below it. */
function refraction(altitude: number): number {
  const h = Math.max(0, altitude) * degrees
  return 0.0002967 / Math.tan(h + 0.00312536 / (h + 0.08901179)) / degrees
}

/**
 * The true altitude that the library reports as `apparent`: it lifts every altitude by the refraction above, below the
 * horizon by a constant, so that its own civil dusk stands at -5.5 degrees instead of -6.
 */
function geometric(apparent: number): number {
  let altitude = apparent - refraction(0)
  if (altitude <= 0) return altitude
  for (let last = Infinity; Math.abs(altitude - last) > 1e-7;) {
    last = altitude
    altitude = apparent - refraction(altitude)
  }
  return altitude
}

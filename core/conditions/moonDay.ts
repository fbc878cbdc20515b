import { getMoonPosition } from "suncalc"
import { localDay } from "./localClock.ts"
import type { Place } from "./place.ts"
import { firstTurns } from "./turns.ts"

/** The moon's day at a place, instants in UTC ms, null where the local civil day has no such instant. */
export type MoonDay = {
  readonly rise: number | null
  readonly set: number | null
  readonly transit: number | null
}

/**
 * Moonrise, moonset and the passage of the meridian within the civil day `date` (YYYY-MM-DD) of an IANA zone. Most months
 * have a day without a rise and one without a set; where a day holds two of a kind (high latitudes), the first is given.
 * The library's own rise and set are those of the UTC day, and one of each at most, so they are found here. Throws as
 * `localDay` does.
 */
export function moonDay(date: string, zone: string, place: Place): MoonDay {
  const day = localDay(date, zone)
  const up = firstTurns((at) => moonIsUp(at, place), day)
  const west = firstTurns((at) => position(at, place).azimuth > 180, day)
  return { rise: up.begins, set: up.ends, transit: west.begins }
}

const position = (at: number, { lat, lon }: Place) => getMoonPosition(new Date(at), lat, lon)

/** Refraction at the horizon in almanacs, degrees. Source: US Naval Observatory definitions (from memory). */
const horizonLift = 34 / 60
/** What the library lifts every altitude below the horizon by, degrees: Meeus (1998) 16.4 at altitude 0. */
const libraryLift = 0.484
const earthRadiusKm = 6378.14
/** The moon's radius over the earth's. Source: Meeus (1998) Astronomical Algorithms, chapter 55 (from memory). */
const moonOverEarth = 0.2725

/** Whether the moon's upper limb stands above the horizon, as almanacs define moonrise and moonset. */
function moonIsUp(at: number, place: Place): boolean {
  const { altitude, distance } = position(at, place)
  const semidiameter = moonOverEarth * Math.asin(earthRadiusKm / distance) * (180 / Math.PI)
  return altitude - libraryLift + semidiameter + horizonLift >= 0
}

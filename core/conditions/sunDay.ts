import { lightUnder } from "./light.ts"
import { localDay } from "./localClock.ts"
import type { Place } from "./place.ts"
import { sunPosition } from "./sun.ts"
import { firstTurns } from "./turns.ts"

/** Nautical twilight ends where the sun's centre is this low, degrees. Source: US Naval Observatory definitions (from memory). */
export const nautical = -12

/**
 * The sun's day at a place, instants in UTC ms, null where the local civil day has no such instant. Civil and nautical dawn
 * and dusk are the ends of those twilights, `transit` the sun's passage of the meridian. `polar` says on which side of the
 * horizon the sun stays all day.
 */
export type SunDay = {
  readonly rise: number | null
  readonly set: number | null
  readonly civil_dawn: number | null
  readonly civil_dusk: number | null
  readonly nautical_dawn: number | null
  readonly nautical_dusk: number | null
  readonly transit: number | null
  readonly polar: "day" | "night" | null
}

/**
 * The sun's day within the civil day `date` (YYYY-MM-DD) of an IANA zone, however far that zone is from the sun's own
 * time: rise and set are where `lightUnder` begins and ceases to say day, so that times and light never disagree. Where a
 * day holds two of a kind (high latitudes, 25-hour days), the first is given; a set may come before the rise. Throws as
 * `localDay` does.
 */
export function sunDay(date: string, zone: string, place: Place): SunDay {
  const day = localDay(date, zone)
  const lightAt = (at: number) => lightUnder(sunPosition(at, place))
  const up = firstTurns((at) => lightAt(at) === "day", day)
  const lit = firstTurns((at) => lightAt(at) !== "night", day)
  const glimmer = firstTurns((at) => sunPosition(at, place).altitude_deg >= nautical, day)
  const afternoon = firstTurns((at) => sunPosition(at, place).azimuth_deg > 180, day)
  return {
    rise: up.begins,
    set: up.ends,
    civil_dawn: lit.begins,
    civil_dusk: lit.ends,
    nautical_dawn: glimmer.begins,
    nautical_dusk: glimmer.ends,
    transit: afternoon.begins,
    polar: up.begins !== null || up.ends !== null ? null : lightAt(day.start) === "day" ? "day" : "night",
  }
}

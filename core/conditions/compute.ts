import { lightUnder, type Light } from "./light.ts"
import { localHour } from "./localClock.ts"
import { moonAt, type Moon } from "./moon.ts"
import { sunPosition, type Place } from "./sun.ts"

/** Names what is computed and how; raised whenever a result may change, so that old rows are rebuilt. */
export const conditionsMethod = "sky 1"

/** Where and when a stint was fished, as far as the computed conditions need it. */
export type WhenAndWhere = {
  readonly start_at: number | null
  readonly end_at: number | null
  readonly zone: string
  readonly place: Place | null
}

/** Conditions by column of `computed`; what a stint's place and time do not give is left out. */
export type Conditions = Moon & {
  readonly hour_local: number
  readonly light?: Light
  readonly sun_altitude_deg?: number
}

/** The conditions that follow from place and time in the middle of a stint; null where the time is unknown. */
export function computeConditions(stint: WhenAndWhere): Conditions | null {
  const { start_at, end_at, zone, place } = stint
  if (start_at === null) return null
  const middle = Math.round(end_at === null ? start_at : (start_at + end_at) / 2)
  const anywhere = { hour_local: localHour(middle, zone), ...moonAt(middle) }
  if (place === null) return anywhere
  const sun = sunPosition(middle, place)
  return { ...anywhere, light: lightUnder(sun), sun_altitude_deg: sun.altitude_deg }
}

import {
  currentHere,
  currentOf,
  placeOf,
  tideHere,
  type CurrentHere,
  type SpotWater,
  type TideHere,
} from "./spotWater.ts"
import type { CurrentEventKind } from "./current/currentCurve.ts"
import { lightUnder, type Light } from "./light.ts"
import { localHour } from "./localClock.ts"
import { moonAt, type Moon } from "./moon.ts"
import type { Stations } from "./stations/stations.ts"
import { sunPosition } from "./sun.ts"
import { canPredict } from "./tide/predictable.ts"
import { tideAt, type TidePart, type TideStage } from "./tide/tideState.ts"

/**
 * Names what is computed and how; raised whenever a result may change, so that old rows are worked out again. Tides:
 * harmonic sum with node factors at mid-year, a quintic between full hours; between a subordinate station's waters its
 * reference's curve drawn to fit.
 */
export const conditionsMethod = "sky 3, tide 2"

/** When and where a stint was fished, as far as the computed conditions need it. Instants in UTC ms. */
export type WhenAndWhere = {
  readonly start_at: number | null
  readonly end_at: number | null
  readonly zone: string
  readonly spot: SpotWater | null
}

/** Conditions by column of `computed`; null where a stint's place and time do not give them. */
export type Conditions = Moon & {
  readonly hour_local: number
  readonly light: Light | null
  readonly sun_altitude_deg: number | null
  readonly tide_station: string | null
  readonly tide_height_m: number | null
  readonly tide_rate_m_h: number | null
  readonly tide_stage: TideStage | null
  readonly tide_part: TidePart | null
  readonly tide_phase_rad: number | null
  readonly tide_range_m: number | null
  readonly tide_spring_neap: number | null
  readonly current_station: string | null
  readonly current_stage: CurrentEventKind | null
  readonly current_speed_ms: number | null
}

/**
 * Makes the function that works out the conditions in the middle of a stint from its place and time; it gives null where
 * the time is unknown.
 */
export function conditionsFrom(stations: Stations): (stint: WhenAndWhere) => Conditions | null {
  const waterOf = watersBy(stations)
  return ({ start_at, end_at, zone, spot }) => {
    if (start_at === null) return null
    const at = Math.round(end_at === null ? start_at : (start_at + end_at) / 2)
    const place = spot === null ? null : placeOf(spot)
    const sun = place === null ? null : sunPosition(at, place)
    const predicted = spot !== null && canPredict(at)
    const { tide, current } = predicted ? waterOf(spot) : noWater
    const state = tide === null ? null : tideAt(tide.curve, at)
    const flow = predicted ? currentOf(spot, tide, current, at) : null
    const { moon_illum, moon_phase_rad } = moonAt(at)
    return {
      hour_local: localHour(at, zone),
      light: sun === null ? null : lightUnder(sun),
      sun_altitude_deg: sun?.altitude_deg ?? null,
      moon_illum,
      moon_phase_rad,
      tide_station: tide?.source.station.id ?? null,
      tide_height_m: state?.height_m ?? null,
      tide_rate_m_h: state?.rate_m_h ?? null,
      tide_stage: state?.stage ?? null,
      tide_part: state?.part ?? null,
      tide_phase_rad: state?.phase_rad ?? null,
      tide_range_m: state?.range_m ?? null,
      tide_spring_neap: state?.spring_neap ?? null,
      current_station: current?.source.station.id ?? null,
      current_stage: flow?.stage ?? null,
      current_speed_ms: flow?.speed_ms ?? null,
    }
  }
}

/** A spot's tide and current. */
type Water = { readonly tide: TideHere | null; readonly current: CurrentHere | null }
const noWater: Water = { tide: null, current: null }

/** What of a spot its water follows from; the object may well be a row that holds more. */
const waterFields = [
  "lon",
  "tide_station",
  "current_station",
  "lag_high_min",
  "lag_low_min",
  "slack_after_high_min",
  "slack_after_low_min",
] as const satisfies (keyof SpotWater)[]

/** Finds a spot's water, once for spots that agree in all it follows from. Sought by latitude: few spots share one. */
function watersBy(stations: Stations): (spot: SpotWater) => Water {
  const known = new Map<number | null, { readonly spot: SpotWater; readonly water: Water }[]>()
  return (spot) => {
    const here = known.get(spot.lat) ?? []
    const found = here.find((other) => waterFields.every((field) => other.spot[field] === spot[field]))
    if (found !== undefined) return found.water
    const water = { tide: tideHere(spot, stations), current: currentHere(spot, stations) }
    known.set(spot.lat, [...here, { spot, water }])
    return water
  }
}

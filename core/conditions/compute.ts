import { currentHere, currentOf, placeOf, tideHere, type SpotWater } from "./spotWater.ts"
import type { CurrentEventKind } from "./current/currentCurve.ts"
import { lightUnder, type Light } from "./light.ts"
import { localHour } from "./localClock.ts"
import { moonAt, type Moon } from "./moon.ts"
import { kept } from "./stations/kept.ts"
import type { Stations } from "./stations/stations.ts"
import { sunPosition } from "./sun.ts"
import { canPredict } from "./tide/predictable.ts"
import { tideAt, type TidePart, type TideStage } from "./tide/tideState.ts"

/**
 * Names what is computed and how; raised whenever a result may change, so that old rows are worked out again. Tides:
 * harmonic sum with node factors at mid-year; between a subordinate station's waters its reference's curve drawn to fit.
 */
export const conditionsMethod = "sky 2, tide 1"

/** When and where a stint was fished, as far as the computed conditions need it. Instants in UTC ms. */
export type WhenAndWhere = {
  readonly start_at: number | null
  readonly end_at: number | null
  readonly zone: string
  readonly spot: SpotWater | null
}

/** Conditions by column of `computed`; what a stint's place and time do not give is left out. */
export type Conditions = Moon & {
  readonly hour_local: number
  readonly light?: Light
  readonly sun_altitude_deg?: number
  readonly tide_station?: string
  readonly tide_height_m?: number
  readonly tide_rate_m_h?: number
  readonly tide_stage?: TideStage | null
  readonly tide_part?: TidePart | null
  readonly tide_phase_rad?: number | null
  readonly tide_range_m?: number | null
  readonly tide_spring_neap?: number | null
  readonly current_station?: string
  readonly current_stage?: CurrentEventKind | null
  readonly current_speed_ms?: number | null
}

/** Places whose stations and curves are kept at hand. */
const placesKept = 500

/**
 * Makes the function that works out the conditions in the middle of a stint from its place and time; it gives null where
 * the time is unknown.
 */
export function conditionsFrom(stations: Stations): (stint: WhenAndWhere) => Conditions | null {
  const waters = kept<string, Water>(placesKept)
  const waterOf = (spot: SpotWater): Water =>
    waters(keyOf(spot), () => ({
      tide: tideHere(spot, stations),
      current: currentHere(spot, stations),
    }))
  return ({ start_at, end_at, zone, spot }) => {
    if (start_at === null) return null
    const middle = Math.round(end_at === null ? start_at : (start_at + end_at) / 2)
    const anywhere = { hour_local: localHour(middle, zone), ...moonAt(middle) }
    if (spot === null) return anywhere
    const place = placeOf(spot)
    const sun = place === null ? null : sunPosition(middle, place)
    return {
      ...anywhere,
      ...(sun === null ? {} : { light: lightUnder(sun), sun_altitude_deg: sun.altitude_deg }),
      ...(canPredict(middle) ? waterAt(spot, waterOf(spot), middle) : {}),
    }
  }
}

type Water = { readonly tide: ReturnType<typeof tideHere>; readonly current: ReturnType<typeof currentHere> }

/** What of a spot its water follows from; the object may well be a row that holds more. */
const keyOf = (spot: SpotWater): string =>
  JSON.stringify([
    spot.lat,
    spot.lon,
    spot.tide_station,
    spot.current_station,
    spot.lag_high_min,
    spot.lag_low_min,
    spot.slack_after_high_min,
    spot.slack_after_low_min,
  ])

function waterAt(spot: SpotWater, { tide, current }: Water, at: number): Partial<Conditions> {
  const state = tide === null ? null : tideAt(tide.curve, at)
  const flow = currentOf(spot, tide, current, at)
  return {
    ...(tide === null || state === null
      ? {}
      : {
          tide_station: tide.source.station.id,
          tide_height_m: state.height_m,
          tide_rate_m_h: state.rate_m_h,
          tide_stage: state.stage,
          tide_part: state.part,
          tide_phase_rad: state.phase_rad,
          tide_range_m: state.range_m,
          tide_spring_neap: state.spring_neap,
        }),
    ...(flow === null ? {} : { current_stage: flow.stage, current_speed_ms: flow.speed_ms }),
    ...(current === null ? {} : { current_station: current.source.station.id }),
  }
}

import { currentAt, stageFromSlacks, type CurrentState, type SlackOffsets } from "./current/currentState.ts"
import { kilometresBetween, type Place } from "./place.ts"
import type { StationCurrent, Stations, StationTide } from "./stations/stations.ts"
import { shiftedTide } from "./tide/shiftedTide.ts"
import type { TideCurve } from "./tide/tideCurve.ts"

/** A place as far as its water is concerned: where it is, the stations chosen for it and how it differs from them. */
export type SpotWater = {
  readonly lat: number | null
  readonly lon: number | null
  readonly tide_station: string | null
  readonly current_station: string | null
  /** Minutes by which the place's high and low water come after the tide station's. */
  readonly lag_high_min: number | null
  readonly lag_low_min: number | null
  /** Minutes after the station's high and low water at which the place was seen to go slack. */
  readonly slack_after_high_min: number | null
  readonly slack_after_low_min: number | null
}

/** How far a station may lie to be taken without being chosen, kilometres: a tide reaches further than a current. Ours. */
export const reach_km = { tide: 40, current: 2 } as const

/** The tide that stands for a place, lags included, and how far its station lies (null where the place is unknown). */
export type TideHere = {
  readonly source: StationTide
  readonly curve: TideCurve
  readonly distance_km: number | null
  /** Whether the station was chosen, or is merely the nearest. */
  readonly chosen: boolean
}
export type CurrentHere = {
  readonly source: StationCurrent
  readonly distance_km: number | null
  readonly chosen: boolean
}

/** The chosen tide station's curve with the place's lags, else the nearest station's in reach, else null. */
export function tideHere(spot: SpotWater, stations: Stations): TideHere | null {
  const found = stationFor("tide", spot.tide_station, placeOf(spot), stations)
  const source = found === null ? null : stations.tide(found.id)
  if (found === null || source === null) return null
  const { lag_high_min, lag_low_min } = spot
  const lagged = lag_high_min !== null || lag_low_min !== null
  const side = (minutes: number | null) => ({ minutes: minutes ?? 0, ratio: 1, plus_m: 0 })
  const curve = lagged
    ? shiftedTide(source.curve, { high: side(lag_high_min), low: side(lag_low_min) })
    : source.curve
  return { source, curve, distance_km: found.distance_km, chosen: found.chosen }
}

/**
 * The chosen current station, else the nearest in reach: a current holds for little water. Null where there is none, and
 * where the user timed the place's own slacks, which say more of it than any station.
 */
export function currentHere(spot: SpotWater, stations: Stations): CurrentHere | null {
  if (slacksOf(spot) !== null) return null
  const found = stationFor("current", spot.current_station, placeOf(spot), stations)
  const source = found === null ? null : stations.current(found.id)
  return found === null || source === null
    ? null
    : { source, distance_km: found.distance_km, chosen: found.chosen }
}

/** The slacks that the user timed at a place against its tide station, if both are told. */
function slacksOf({ slack_after_high_min, slack_after_low_min }: SpotWater): SlackOffsets | null {
  return slack_after_high_min === null || slack_after_low_min === null
    ? null
    : { after_high_min: slack_after_high_min, after_low_min: slack_after_low_min }
}

/**
 * The current of a place at an instant in UTC ms: the stage alone from slacks that the user timed there against the tide
 * station's high and low water, else its station's, else null. Never from heights.
 */
export function currentOf(
  spot: SpotWater,
  tide: TideHere | null,
  current: CurrentHere | null,
  at: number,
): CurrentState | null {
  if (current !== null) return currentAt(current.source.curve, at)
  const slacks = slacksOf(spot)
  if (tide === null || slacks === null) return null
  const stage = stageFromSlacks(tide.source.curve.watersAround(at).tides, slacks, at)
  return stage === null ? null : { speed_ms: null, direction_deg: null, stage }
}

export const placeOf = ({ lat, lon }: Pick<SpotWater, "lat" | "lon">): Place | null =>
  lat === null || lon === null ? null : { lat, lon }

type Found = { readonly id: string; readonly distance_km: number | null; readonly chosen: boolean }

function stationFor(
  kind: "tide" | "current",
  chosen: string | null,
  place: Place | null,
  stations: Stations,
): Found | null {
  if (chosen !== null) {
    const station = stations.find(chosen)
    if (station?.kind !== kind) return null
    return {
      id: chosen,
      distance_km: place === null ? null : kilometresBetween(place, station),
      chosen: true,
    }
  }
  const nearest = place === null ? undefined : stations.nearest(kind, place, 1)[0]
  if (nearest === undefined || nearest.distance_km > reach_km[kind]) return null
  return { id: nearest.station.id, distance_km: nearest.distance_km, chosen: false }
}

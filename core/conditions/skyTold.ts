import { ProblemError } from "../../shared/problems.ts"
import { mostInstants, type Sky, type SkyAsk, type SkyTold } from "../../shared/sky.ts"
import { planCautions, watersCautions } from "./cautions.ts"
import { currentAt } from "./current/currentState.ts"
import { lightUnder } from "./light.ts"
import { localDate } from "./localClock.ts"
import { moonAge, moonAt, moonDistance } from "./moon.ts"
import { moonDay } from "./moonDay.ts"
import type { Place } from "./place.ts"
import { currentHere, tideHere, type CurrentHere, type SpotWater, type TideHere } from "./spotWater.ts"
import { doubtAbout, stationSeen } from "./stations/fit.ts"
import { kept } from "./stations/kept.ts"
import type { Stations } from "./stations/stations.ts"
import { sunPosition } from "./sun.ts"
import { sunDay } from "./sunDay.ts"
import { canPredict, firstYear, lastYear } from "./tide/predictable.ts"
import { tideAt } from "./tide/tideState.ts"
import type { Water } from "./tide/waters.ts"
import { zoneAt } from "./zoneAt.ts"

/**
 * Sun, light, moon, tide and current at a place, or at a station's own place, at one instant or a row of them. Where any of them is still
 * to come (`now` in UTC ms) the cautions for a plan are added. Throws a ProblemError for an unknown station, no place at all, too many instants, or a date for which nothing is predicted.
 */
export function tellSky(ask: SkyAsk, stations: Stations, now: number): SkyTold {
  const spot = spotOf(ask, stations)
  const place = { lat: spot.lat, lon: spot.lon }
  const zone = zoneAt(place)
  const instants = instantsOf(ask)
  const tide = tideHere(spot, stations)
  const current = currentHere(spot, stations)
  const days = kept<string, DayTimes>(4)
  const told = instants.map((at) => skyAt(at, { place, zone, tide, current, days }))
  const say = (here: TideHere | CurrentHere | null) =>
    here === null
      ? null
      : `${here.source.station.name}: ${stationSeen(here.source.station, place, stations).word}`
  const doubt = tide === null ? doubtAbout(place, stations) : null
  return {
    zone,
    place,
    tide: say(tide),
    current: say(current),
    cautions: [
      ...(doubt === null ? [] : [{ code: "maybe_swapped", text: doubt }]),
      ...watersCautions({
        tide: tide !== null,
        current: current !== null,
        interpolated: tide?.curve.interpolated === true || current?.source.curve.interpolated === true,
      }),
      ...(instants.some((at) => at > now) ? planCautions : []),
    ],
    told,
  }
}

type PlacedSpot = SpotWater & Place

const nothingOfItsOwn = {
  lag_high_min: null,
  lag_low_min: null,
  slack_after_high_min: null,
  slack_after_low_min: null,
}

function spotOf({ place, station: id }: SkyAsk, stations: Stations): PlacedSpot {
  const station = id === null ? null : stations.find(id)
  if (id !== null && station === null)
    throw new ProblemError(
      "unknown_station",
      `There is no station ${id}. List those near a place to find its id.`,
      {
        station: id,
      },
    )
  const where = place ?? station
  if (where === null)
    throw new ProblemError("bad_input", "Give a place (latitude and longitude) or a station.", {})
  return {
    lat: where.lat,
    lon: where.lon,
    tide_station: station?.kind === "tide" ? station.id : null,
    current_station: station?.kind === "current" ? station.id : null,
    ...nothingOfItsOwn,
  }
}

function instantsOf({ at, until, every_min }: SkyAsk): number[] {
  for (const instant of [at, until])
    if (instant !== null && !canPredict(instant))
      throw new ProblemError(
        "bad_input",
        `${new Date(instant).toISOString().slice(0, 10)} is outside ${firstYear} to ${lastYear}: constants of our time do not hold for it.`,
        { at: instant },
      )
  if (until === null) return [at]
  if (until < at) throw new ProblemError("bad_input", "The end comes before the start.", { at, until })
  const count = Math.floor((until - at) / (every_min * 60_000)) + 1
  if (count > mostInstants)
    throw new ProblemError(
      "bad_input",
      `That would be ${count} instants; at most ${mostInstants} are told at once. Take a longer step or a shorter time.`,
      { count },
    )
  return Array.from({ length: count }, (_, i) => Math.round(at + i * every_min * 60_000))
}

type Here = {
  readonly place: Place
  readonly zone: string
  readonly tide: TideHere | null
  readonly current: CurrentHere | null
  readonly days: ReturnType<typeof kept<string, DayTimes>>
}

const iso = (at: number | null): string | null => (at === null ? null : new Date(at).toISOString())
const water = (known: Water | null): { kind: "high" | "low"; at: string; height_m: number } | null =>
  known === null ? null : { kind: known.kind, at: new Date(known.at).toISOString(), height_m: known.height_m }

type DayTimes = {
  readonly sun: Omit<Sky["sun"], "altitude_deg" | "azimuth_deg">
  readonly moon: Pick<Sky["moon"], "rise" | "set" | "transit">
}

function dayTimes(date: string, zone: string, place: Place): DayTimes {
  const sun = sunDay(date, zone, place)
  const moon = moonDay(date, zone, place)
  return {
    sun: {
      rise: iso(sun.rise),
      set: iso(sun.set),
      civil_dawn: iso(sun.civil_dawn),
      civil_dusk: iso(sun.civil_dusk),
      nautical_dawn: iso(sun.nautical_dawn),
      nautical_dusk: iso(sun.nautical_dusk),
    },
    moon: { rise: iso(moon.rise), set: iso(moon.set), transit: iso(moon.transit) },
  }
}

function skyAt(at: number, { place, zone, tide, current, days }: Here): Sky {
  const sun = sunPosition(at, place)
  const { moon_illum, moon_phase_rad } = moonAt(at)
  const date = localDate(at, zone)
  const day = days(date, () => dayTimes(date, zone, place))
  const flow = current === null ? null : currentAt(current.source.curve, at)
  return {
    at: new Date(at).toISOString(),
    sun: { altitude_deg: sun.altitude_deg, azimuth_deg: sun.azimuth_deg, ...day.sun },
    light: lightUnder(sun),
    moon: {
      illum: moon_illum,
      phase_rad: moon_phase_rad,
      age_d: moonAge(at),
      distance_km: moonDistance(at),
      ...day.moon,
    },
    tide: tide === null ? null : tideTold(tide, at),
    current:
      current === null || flow === null || flow.speed_ms === null
        ? null
        : {
            station: current.source.station.id,
            speed_ms: flow.speed_ms,
            direction_deg: flow.direction_deg,
            stage: flow.stage,
            interpolated: current.source.curve.interpolated,
          },
  }
}

function tideTold({ source, curve }: TideHere, at: number): NonNullable<Sky["tide"]> {
  const state = tideAt(curve, at)
  return {
    station: source.station.id,
    datum: source.datum,
    height_m: state.height_m,
    stage: state.stage,
    part: state.part,
    phase_rad: state.phase_rad,
    rate_m_h: state.rate_m_h,
    range_m: state.range_m,
    spring_neap: state.spring_neap,
    previous: water(state.previous),
    next: water(state.next),
    interpolated: curve.interpolated,
  }
}

import { presets, type ReaderUnits } from "../../shared/readerUnits.ts"
import type { DayStrip } from "../../shared/trips.ts"
import { localDay, type Span } from "../conditions/localClock.ts"
import type { Place } from "../conditions/place.ts"
import { placeOf, tideHere, type SpotWater, type TideHere } from "../conditions/spotWater.ts"
import { kept } from "../conditions/stations/kept.ts"
import type { Stations } from "../conditions/stations/stations.ts"
import { sunDay, type SunDay } from "../conditions/sunDay.ts"
import { canPredict } from "../conditions/tide/predictable.ts"
import { lanesOf } from "./lanes.ts"
import { lightBands, litSpan } from "./lightBands.ts"
import { sayDay } from "./sayDay.ts"
import type { DayFish, DayStint, Stretch, TripDay } from "./tripDay.ts"

const minuteMs = 60_000
const hourMs = 60 * minuteMs
const tideEvery = 10 * minuteMs

/** How far beyond its own date a trip may reach and still be one picture; what lies further is left out. Ours. */
const before = 12 * hourMs
const after = 24 * hourMs

/** Where the tide of a place and the sun of a day are asked for. */
export type SkyOfDay = {
  readonly tideAt: (water: SpotWater) => TideHere | null
  readonly sunOf: typeof sunDay
}

const daysKept = 400
const placesKept = 100

/** The sun of any day; those asked for last are kept at hand. */
export function sunKept(): typeof sunDay {
  const days = kept<string, SunDay>(daysKept)
  return (date, zone, place) =>
    days(`${date} ${zone} ${place.lat} ${place.lon}`, () => sunDay(date, zone, place))
}

/** The sky over some stations, each place's tide worked out once. */
export function skyOf(stations: Stations, sunOf = sunKept()): SkyOfDay {
  const tides = kept<string, { readonly here: TideHere | null }>(placesKept)
  return {
    tideAt: (water) =>
      tides(JSON.stringify(Object.values(water)), () => ({ here: tideHere(water, stations) })).here,
    sunOf,
  }
}

/**
 * A trip's day as a picture and in words, told in the reader's units: from first light to last of its local date, or to its
 * first and last clock where they lie outside. Light is that of the first stop whose place is known, the tide that of the
 * first that has one. Null where nothing of the trip has a clock near its date. Throws ProblemError for a date that its
 * zone left out.
 */
export function dayStrip(
  trip: TripDay,
  sky: SkyOfDay,
  reader: ReaderUnits = presets.metric,
): DayStrip | null {
  const { date, zone } = trip
  const day = localDay(date, zone)
  const reach = { start: day.start - before, end: day.end + after }
  const clocked = trip.stints.flatMap((stint) => barOf(stint, reach))
  const stops = trip.stops.flatMap(({ start_at, end_at, spot }) =>
    start_at === null || end_at === null || !within(start_at, reach) || !within(end_at, reach)
      ? []
      : [{ from: start_at, to: end_at, spot: spot ?? "" }],
  )
  const fish = placeFish(trip.fish, clocked, reach)
  const instants = [...clocked, ...stops].flatMap(({ from, to }) => [from, to])
  if (instants.length === 0) return null
  const place = trip.stops.flatMap(({ water }) => (water === null ? [] : (placeOf(water) ?? [])))[0]
  const span = spanOf([...instants, ...fish.map(({ at }) => at)], place, trip, day, sky)
  const strip = {
    zone,
    date,
    from: span.start,
    to: span.end,
    light: place === undefined ? [] : lightBands(span, zone, place, sky.sunOf),
    tide: tideOver(trip, span, sky),
    stints: withLanes(clocked),
    stops: stops.filter(({ spot }) => spot !== ""),
    fish,
  }
  return { ...strip, said: sayDay(strip, trip, reader) }
}

const within = (at: number, { start, end }: Span): boolean => at >= start && at <= end

type Bar = Stretch & { readonly stint: DayStint }

/** A stint with its own clock; where only its start was noted, its minutes say how long it was. */
function barOf(stint: DayStint, reach: Span): Bar[] {
  const { start_at, end_at, effort_minutes } = stint
  if (start_at === null) return []
  const to = end_at ?? (effort_minutes === null ? null : start_at + Math.round(effort_minutes * minuteMs))
  if (to === null || !within(start_at, reach) || !within(to, reach)) return []
  return [{ stint, from: start_at, to }]
}

function withLanes(bars: readonly Bar[]): DayStrip["stints"] {
  const lanes = lanesOf(bars)
  return bars.map(({ stint: { id, lure_class, presentation, spot, landed }, from, to }, i) => ({
    id,
    from,
    to,
    lane: lanes[i] ?? 0,
    lure_class,
    presentation,
    spot,
    landed,
  }))
}

/** Fish at their own time; those without one lie evenly over their stint, where that has a bar. */
function placeFish(fish: readonly DayFish[], bars: readonly Bar[], reach: Span): DayStrip["fish"] {
  const barById = new Map(bars.map((bar) => [bar.stint.id, bar]))
  const untimed = Map.groupBy(
    fish.filter(({ at }) => at === null),
    ({ stint }) => stint,
  )
  return fish.flatMap((one) => {
    const { stint, species } = one
    const known = one.at !== null
    const at = one.at ?? spread(barById.get(stint), untimed.get(stint) ?? [], one)
    return at === null || !within(at, reach) ? [] : [{ at, known, stint, species }]
  })
}

function spread(bar: Bar | undefined, of: readonly DayFish[], one: DayFish): number | null {
  if (bar === undefined) return null
  return Math.round(bar.from + ((bar.to - bar.from) * (of.indexOf(one) + 0.5)) / of.length)
}

function spanOf(
  instants: readonly number[],
  place: Place | undefined,
  { date, zone }: TripDay,
  day: Span,
  sky: SkyOfDay,
): Span {
  const lit = place === undefined ? null : litSpan(sky.sunOf(date, zone, place), day)
  return {
    start: Math.min(...instants, lit?.start ?? Infinity),
    end: Math.max(...instants, lit?.end ?? -Infinity),
  }
}

function tideOver({ stops }: TripDay, { start, end }: Span, sky: SkyOfDay): DayStrip["tide"] {
  if (!canPredict(start) || !canPredict(end)) return null
  for (const { water } of stops) {
    const tide = water === null ? null : sky.tideAt(water)
    if (tide === null) continue
    const { curve, source } = tide
    const count = Math.floor((end - start) / tideEvery)
    const instants = [...Array.from({ length: count + 1 }, (_, i) => start + i * tideEvery), end]
    return {
      station: source.station.name,
      interpolated: curve.interpolated,
      points: [...new Set(instants)].map((at) => ({ at, height_m: curve.heightAt(at) })),
      waters: curve
        .watersAround((start + end) / 2)
        .tides.filter(({ at }) => at >= start && at <= end)
        .map(({ kind, at, height_m }) => ({ kind, at, height_m })),
    }
  }
  return null
}

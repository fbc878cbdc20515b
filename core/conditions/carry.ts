import { factorsAt, type FactorId } from "../../shared/factors.ts"
import { observationSources } from "../../shared/vocabulary.ts"

/** How one observed factor is carried from a reading to a stint. */
export type CarryRule = {
  /** Minutes before a stint's start or after its end beyond which a reading tells nothing about it. */
  readonly window: number
  /** `interpolated`: linear in time between a reading before and one after, where there are both; else the nearest. */
  readonly how: "nearest" | "interpolated"
  /** `stop`: it belongs to a place, and a reading from elsewhere tells nothing. `trip`: it holds for the waters around. */
  readonly where: "stop" | "trip"
}

/** One value of one factor, seen from the stint that asks. Instants in UTC ms. */
export type Reading = {
  readonly value: number | string
  readonly source: (typeof observationSources)[number]
  /** When it was taken; null where nobody said: it holds for the whole stop, or without a stop for the whole trip. */
  readonly at: number | null
  /** Whether it was entered for this very stint. */
  readonly own: boolean
  /** Whether it was taken at the stint's stop; null where nobody said where. */
  readonly same_stop: boolean | null
  readonly entered_at: number
}

/** When a stint was fished, UTC ms. */
export type Span = { readonly start: number | null; readonly end: number | null }

/** A value for a stint and where it comes from, in words. */
export type Carried = { readonly value: number | string; readonly source: string }

const minute = 60_000
/** A stint without an end is taken to hold readings this close to its start. Common practice, no source. */
const unendedMinutes = 30

const rule = (window: number, how: CarryRule["how"], where: CarryRule["where"]): CarryRule => ({
  window,
  how,
  where,
})

/**
 * The rule of each observed factor. The windows are ours (common practice, no source): short where a tide changes the
 * value within the hour, long where it is slow and smooth.
 */
const rules: Readonly<Partial<Record<FactorId, CarryRule>>> = {
  water_temp_c: rule(120, "interpolated", "trip"),
  visibility: rule(120, "nearest", "trip"),
  water_colour: rule(120, "nearest", "trip"),
  secchi_cm: rule(120, "nearest", "trip"),
  salinity_psu: rule(120, "interpolated", "trip"),
  water_depth_m: rule(60, "nearest", "stop"),
  water_movement: rule(60, "nearest", "stop"),
  bank_water: rule(60, "nearest", "stop"),
  wind_speed_ms: rule(90, "nearest", "trip"),
  wind_dir_deg: rule(90, "nearest", "trip"),
  cloud_okta: rule(90, "nearest", "trip"),
  barometer_hpa: rule(180, "interpolated", "trip"),
  barometer_3h_hpa: rule(120, "interpolated", "trip"),
  bait_seen: rule(60, "nearest", "stop"),
}

/** Every observed factor with its rule, in catalogue order. Throws where one has none (our bug). */
export const carryRules: readonly { readonly id: FactorId; readonly rule: CarryRule }[] = factorsAt(
  "observation",
).map((id) => {
  const found = rules[id]
  if (found === undefined) throw new Error(`no rule carries ${id}`)
  return { id, rule: found }
})

/**
 * What the readings of a trip say of one factor during a stint; null where they say nothing. The first that applies:
 * 1. the stint's own reading, the latest of them;
 * 2. a reading taken during the stint (without an end: within 30 minutes of its start);
 * 3. a reading of the stop without a time;
 * 4. the nearest within the window, before the start or after the end, or a value between two such where the rule
 *    interpolates, reckoned for the middle of the stint;
 * 5. a reading of the trip without a time or a stop.
 * Of several the nearest in time is taken, then that of the same stop before one of no stop, and that before another
 * stop's; what a person read before a station's file; the nearest to the middle of the stint; the later one.
 * between two readings never mix a person's with a station's. A stint without a start gets nothing by time.
 */
export function carried(readings: readonly Reading[], span: Span, rule: CarryRule): Carried | null {
  const own = first(
    readings.filter((reading) => reading.own),
    latest,
  )
  if (own !== null) return asItIs(own)
  const timed = span.start === null ? [] : inTime(readings, { start: span.start, end: span.end }, rule)
  const best = first(timed, nearest)
  if (best !== null && best.minutes === 0) return asItIs(best.reading)
  const untimed = readings.filter(({ at, same_stop }) => at === null && same_stop !== false)
  const ofStop = first(
    untimed.filter((reading) => reading.same_stop === true),
    latest,
  )
  if (ofStop !== null) return asItIs(ofStop)
  if (best !== null) return (rule.how === "interpolated" ? between(best, timed) : null) ?? byTime(best)
  const ofTrip = first(untimed, latest)
  return ofTrip === null ? null : asItIs(ofTrip)
}

/** A reading that may be carried: minutes before the stint (negative), after it, or 0 where it was taken during it. */
type Timed = {
  readonly reading: Reading
  readonly minutes: number
  /** Minutes from the middle of the stint, negative before it. */
  readonly fromMiddle: number
}

const asItIs = ({ value, source }: Reading): Carried => ({ value, source })

function inTime(
  readings: readonly Reading[],
  { start, end }: { readonly start: number; readonly end: number | null },
  rule: CarryRule,
): Timed[] {
  const slack = end === null ? unendedMinutes : 0
  const last = end ?? start
  const timed: Timed[] = []
  for (const reading of readings) {
    if (reading.at === null) continue
    const before = (reading.at - start) / minute
    const after = (reading.at - last) / minute
    const minutes = before < -slack ? before : after > slack ? after : 0
    if (Math.abs(minutes) > rule.window || !mayTell(reading, minutes, rule)) continue
    timed.push({ reading, minutes, fromMiddle: (before + after) / 2 })
  }
  return timed
}

/** Whether a reading may tell of the stint's place: what belongs to a place only if it was taken there. */
const mayTell = ({ same_stop }: Reading, minutes: number, rule: CarryRule): boolean =>
  rule.where === "trip" || same_stop === true || (same_stop === null && minutes === 0)

const byTime = ({ reading, minutes }: Timed): Carried => ({
  value: reading.value,
  source: `carried from ${told(minutes)} min ${minutes < 0 ? "before" : "after"}`,
})

const told = (minutes: number): number => Math.max(1, Math.round(Math.abs(minutes)))

/** The value in the middle of the stint, between the nearest reading and the nearest of its sort on the other side. */
function between(best: Timed, timed: readonly Timed[]): Carried | null {
  const other = first(
    timed.filter(
      ({ reading, minutes }) =>
        Math.sign(minutes) === -Math.sign(best.minutes) && isStation(reading) === isStation(best.reading),
    ),
    nearest,
  )
  if (other === null) return null
  const [before, after] = best.minutes < 0 ? [best, other] : [other, best]
  const low = before.reading.value
  const high = after.reading.value
  if (typeof low !== "number" || typeof high !== "number") return null
  const part = -before.fromMiddle / (after.fromMiddle - before.fromMiddle)
  return {
    value: low + (high - low) * part,
    source: `between readings ${told(before.minutes)} min before and ${told(after.minutes)} min after`,
  }
}

const isStation = ({ source }: Reading): boolean => source === "imported"

/** The first of some in an order; null where there are none. */
function first<T>(some: readonly T[], order: (a: T, b: T) => number): T | null {
  let best: T | null = null
  for (const one of some) if (best === null || order(one, best) < 0) best = one
  return best
}

const placeRank = ({ same_stop }: Reading): number => (same_stop === true ? 0 : same_stop === null ? 1 : 2)

const nearest = (a: Timed, b: Timed): number =>
  Math.abs(a.minutes) - Math.abs(b.minutes) ||
  placeRank(a.reading) - placeRank(b.reading) ||
  Number(isStation(a.reading)) - Number(isStation(b.reading)) ||
  Math.abs(a.fromMiddle) - Math.abs(b.fromMiddle) ||
  latest(a.reading, b.reading)

/** Later readings first, then a person's, then those entered later; the rest only makes the choice a definite one. */
const latest = (a: Reading, b: Reading): number =>
  (b.at ?? -Infinity) - (a.at ?? -Infinity) ||
  Number(isStation(a)) - Number(isStation(b)) ||
  b.entered_at - a.entered_at ||
  observationSources.indexOf(a.source) - observationSources.indexOf(b.source) ||
  (a.value < b.value ? -1 : a.value > b.value ? 1 : 0)

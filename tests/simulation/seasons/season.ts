import { type Random, below, gamma, negativeBinomial, normal, uniform } from "../../../core/stats/random.ts"

/** A kind of season with three levels of a factor. Trips differ by a log-normal spread, events clump within a stint (negative
 *  binomial, `theta`), and each level may do better or worse on some trips by a log-normal effect of its own. */
export type Season = {
  readonly trips: number
  readonly spread: number
  readonly theta: number
  /** Events of the third level per rod-hour on a trip without spread. */
  readonly rate: number
  /** How many times the third level's rate the first two give. */
  readonly ratios: readonly [number, number]
  readonly levelByTrip: number
  /** "mixed": any level on any stint; "hardly mixed": two trips in three keep to one level; "apart": every trip does;
   *  "patient": levels change once nothing has come for as long as the angler waits, the same for each level;
   *  "favourite": the first level is waited for nearly twice as long. */
  readonly levels: "mixed" | "hardly mixed" | "apart" | "patient" | "favourite"
}

export const LEVELS = 3

/** One made-up season: a stint a row. */
export type Drawn = {
  readonly level: Int32Array
  readonly trip: Int32Array
  readonly trips: number
  readonly events: Float64Array
  readonly hours: Float64Array
}

type Rows = { level: number[]; trip: number[]; events: number[]; hours: number[] }

const STINT_HOURS = [0.25, 0.5, 0.75, 1, 1.25]
const FEWEST_STINTS = 4
const MOST_STINTS = 8
/** Hours of a trip on which levels are changed for want of events. */
const TRIP_HOURS = 5
/** Hours without event after which a level is changed. */
const PATIENCE = 0.4
const FAVOURITE_PATIENCE = 0.75

export function drawSeason(random: Random, season: Season): Drawn {
  const rows: Rows = { level: [], trip: [], events: [], hours: [] }
  for (let trip = 0; trip < season.trips; trip++) {
    const day = season.rate * Math.exp(season.spread * normal(random))
    const rates = [...season.ratios, 1].map(
      (ratio) => day * ratio * Math.exp(season.levelByTrip * normal(random)),
    )
    if (season.levels === "patient" || season.levels === "favourite") {
      drawChanging(random, season, trip, rates, rows)
    } else {
      drawPlanned(random, season, trip, rates, rows)
    }
  }
  return {
    level: Int32Array.from(rows.level),
    trip: Int32Array.from(rows.trip),
    trips: season.trips,
    events: Float64Array.from(rows.events),
    hours: Float64Array.from(rows.hours),
  }
}

/** Stints whose level and length were settled beforehand. */
function drawPlanned(
  random: Random,
  { theta, levels }: Season,
  trip: number,
  rates: readonly number[],
  rows: Rows,
): void {
  const keeps = levels === "apart" || (levels === "hardly mixed" && uniform(random) < 2 / 3)
  const kept = below(random, LEVELS)
  const stints = FEWEST_STINTS + below(random, MOST_STINTS - FEWEST_STINTS + 1)
  for (let stint = 0; stint < stints; stint++) {
    const level = keeps ? kept : below(random, LEVELS)
    const hours = STINT_HOURS[below(random, STINT_HOURS.length)] ?? 1
    const events = negativeBinomial(random, hours * (rates[level] ?? 0), theta)
    add(rows, { level, trip, events, hours })
  }
}

/** Stints that end when nothing has come for as long as the angler waits. Within a stint events come as a Poisson stream whose
 *  rate is the trip's for the level times a gamma of its own, so that counts clump as in the others. */
function drawChanging(
  random: Random,
  { theta, levels }: Season,
  trip: number,
  rates: readonly number[],
  rows: Rows,
): void {
  let level = below(random, LEVELS)
  for (let clock = 0; clock < TRIP_HOURS;) {
    const rate = (rates[level] ?? 0) * gamma(random, theta, 1 / theta)
    const patience = levels === "favourite" && level === 0 ? FAVOURITE_PATIENCE : PATIENCE
    let [hours, events] = [0, 0]
    for (;;) {
      const wait = rate > 0 ? -Math.log(1 - uniform(random)) / rate : Infinity
      const most = Math.min(patience, TRIP_HOURS - clock - hours)
      hours += Math.min(wait, most)
      if (wait > most) break
      events++
    }
    add(rows, { level, trip, events, hours })
    clock += hours + 1e-9
    level = (level + 1 + below(random, LEVELS - 1)) % LEVELS
  }
}

function add(rows: Rows, stint: { level: number; trip: number; events: number; hours: number }): void {
  rows.level.push(stint.level)
  rows.trip.push(stint.trip)
  rows.events.push(stint.events)
  rows.hours.push(stint.hours)
}

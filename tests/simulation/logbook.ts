import { below, negativeBinomial, normal, type Random, uniform } from "../../core/stats/random.ts"
import { normalLower, normalQuantile } from "../../core/stats/distributions/normal.ts"

/** What a made-up logbook is drawn from. Two levels, a and b, of which a produces RATIO times as much. */
export type Cell = {
  trips: number
  /** Standard deviation of the log-normal spread between trips; 0: all trips alike. */
  spread: number
  /** Events of level b per rod-hour on a trip without spread. */
  rate: number
  /** "mixed": each stint takes a level by a coin; "apart": each trip keeps to one level. */
  levels: "mixed" | "apart"
}

export const RATIO = 1.5
/** Clumping of events within a stint: negative binomial, variance mean + mean^2/THETA. */
export const THETA = 1.3
const SHARE_MIDDLE = 0.25
const LENGTH = 400
const LENGTH_BETWEEN = 60
const LENGTH_WITHIN = 50
/** Stint lengths in hours, each as likely as any other. */
const STINT_HOURS = [0.25, 0.5, 0.75, 1, 1.25, 1.5]
const STINTS_A_TRIP = [2, 3, 4, 5, 6]

/** Long-run truth of level a, and the ratio of a to b. */
export function truth(cell: Cell) {
  return {
    rate: cell.rate * RATIO * Math.exp(cell.spread ** 2 / 2),
    ratio: RATIO,
    // A trip's share is normal on the probit scale, so its mean is a normal probability again.
    share: normalLower(SHARE_MIDDLE / Math.hypot(1, cell.spread)),
    length: LENGTH,
    anyEventRate: anyEventRate(cell),
  }
}

/** The lambda that long series of stints would give for "any event": stints clump and trips vary, so 1 - exp(-lambda h) holds
 *  only on average, and lambda is where the expected score is 0. The spread is integrated over 2,000 equal parts. */
function anyEventRate({ rate, spread }: Cell): number {
  const parts = Array.from({ length: 2000 }, (_, i) => Math.exp(spread * normalQuantile((i + 0.5) / 2000)))
  const blank = STINT_HOURS.map(
    (h) =>
      parts.reduce((sum, trip) => sum + (1 + (rate * RATIO * trip * h) / THETA) ** -THETA, 0) / parts.length,
  )
  const score = (lambda: number): number =>
    STINT_HOURS.reduce((sum, h, i) => {
      const none = blank[i] ?? NaN
      return sum + ((1 - none) * h) / Math.expm1(lambda * h) - none * h
    }, 0)
  let [low, high] = [1e-4, 100]
  for (let step = 0; step < 60; step++) {
    const middle = Math.sqrt(low * high)
    if (score(middle) > 0) low = middle
    else high = middle
  }
  return Math.sqrt(low * high)
}

export type LevelTotals = {
  /** Per trip: events, rod-hours, events that were a success, sum of lengths. */
  events: Float64Array
  hours: Float64Array
  successes: Float64Array
  lengths: Float64Array
  /** Per stint: any event, rod-hours, trip. */
  stintHappened: number[]
  stintHours: number[]
  stintTrip: number[]
}

/** One made-up logbook drawn from a cell. */
export function drawLogbook(random: Random, cell: Cell): { a: LevelTotals; b: LevelTotals } {
  const a = emptyTotals(cell.trips)
  const b = emptyTotals(cell.trips)
  for (let trip = 0; trip < cell.trips; trip++) {
    const day = cell.rate * Math.exp(cell.spread * normal(random))
    const share = normalLower(SHARE_MIDDLE + cell.spread * normal(random))
    const length = LENGTH + LENGTH_BETWEEN * normal(random)
    for (let stint = pick(random, STINTS_A_TRIP); stint > 0; stint--) {
      const isA = cell.levels === "mixed" ? uniform(random) < 0.5 : trip % 2 === 0
      const hours = pick(random, STINT_HOURS)
      const events = negativeBinomial(random, day * hours * (isA ? RATIO : 1), THETA)
      addStint(isA ? a : b, random, { trip, hours, events, share, length })
    }
  }
  return { a, b }
}

function addStint(
  level: LevelTotals,
  random: Random,
  stint: { trip: number; hours: number; events: number; share: number; length: number },
): void {
  const { trip, hours, events } = stint
  add(level.events, trip, events)
  add(level.hours, trip, hours)
  for (let event = 0; event < events; event++) {
    add(level.successes, trip, uniform(random) < stint.share ? 1 : 0)
    add(level.lengths, trip, stint.length + LENGTH_WITHIN * normal(random))
  }
  level.stintHappened.push(events > 0 ? 1 : 0)
  level.stintHours.push(hours)
  level.stintTrip.push(trip)
}

function emptyTotals(trips: number): LevelTotals {
  return {
    events: new Float64Array(trips),
    hours: new Float64Array(trips),
    successes: new Float64Array(trips),
    lengths: new Float64Array(trips),
    stintHappened: [],
    stintHours: [],
    stintTrip: [],
  }
}

function add(totals: Float64Array, trip: number, value: number): void {
  totals[trip] = (totals[trip] ?? 0) + value
}

function pick(random: Random, values: readonly number[]): number {
  return values[below(random, values.length)] ?? NaN
}

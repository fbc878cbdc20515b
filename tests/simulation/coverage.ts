import { clusterMean } from "../../core/stats/clusterMean.ts"
import { type PooledDesign, clusterRate, designEffect } from "../../core/stats/clusterRate.ts"
import { clusterRatio } from "../../core/stats/clusterRatio.ts"
import { clusterShare, shareDesignEffect } from "../../core/stats/clusterShare.ts"
import { fitHourlyChance, hourlyChance, hourlyDesignEffect } from "../../core/stats/hourlyChance.ts"
import { poissonInterval } from "../../core/stats/poissonInterval.ts"
import type { Random } from "../../core/stats/random.ts"
import { ratioOfSums } from "../../core/stats/ratioOfSums.ts"
import { jackknifeInterval, linearisedInterval } from "./comparison.ts"
import { type Cell, type LevelTotals, drawLogbook, truth } from "./logbook.ts"

export const CELLS: Cell[] = [8, 20, 60, 200].flatMap((trips) =>
  [0, 0.5, 0.8].flatMap((spread) =>
    [0.15, 1].flatMap((rate) =>
      (["mixed", "apart"] as const).map((levels) => ({ trips, spread, rate, levels })),
    ),
  ),
)

/** The intervals whose coverage is counted: those of the product, then those only compared with. */
export const METHODS = [
  "rate",
  "ratio",
  "share",
  "mean",
  "any",
  "linearised",
  "jackknife",
  "poisson",
] as const
export type Method = (typeof METHODS)[number]

export type Coverage = {
  /** Logbooks in which the method gave an interval. */
  answered: number
  /** Share of those whose interval holds the truth. */
  covered: number
  /** Monte Carlo standard error of that share. */
  error: number
}

type Interval = { low: number | null; high: number | null }

/** Draws logbooks from a cell and counts for each method how often its 95% interval holds the truth. */
export function coverageOf(cell: Cell, logbooks: number, random: Random): Record<Method, Coverage> {
  const target = truth(cell)
  const truthOf: Record<Method, number> = {
    rate: target.rate,
    ratio: target.ratio,
    share: target.share,
    mean: target.length,
    any: target.anyEventRate,
    linearised: target.rate,
    jackknife: target.rate,
    poisson: target.rate,
  }
  const tally = (): Record<Method, number> => ({
    rate: 0,
    ratio: 0,
    share: 0,
    mean: 0,
    any: 0,
    linearised: 0,
    jackknife: 0,
    poisson: 0,
  })
  const answered = tally()
  const held = tally()
  for (let logbook = 0; logbook < logbooks; logbook++) {
    const intervals = intervalsOf(drawLogbook(random, cell))
    for (const method of METHODS) {
      const interval = intervals[method]
      if (interval === null || (interval.low === null && interval.high === null)) continue
      answered[method]++
      const { low, high } = interval
      if ((low ?? -Infinity) <= truthOf[method] && truthOf[method] <= (high ?? Infinity)) held[method]++
    }
  }
  const coverage = (method: Method): Coverage => proportion(held[method], answered[method])
  return {
    rate: coverage("rate"),
    ratio: coverage("ratio"),
    share: coverage("share"),
    mean: coverage("mean"),
    any: coverage("any"),
    linearised: coverage("linearised"),
    jackknife: coverage("jackknife"),
    poisson: coverage("poisson"),
  }
}

function proportion(held: number, answered: number): Coverage {
  const covered = held / answered
  // At 0 or 1 the plain error would be 0; half a logbook either way keeps it honest.
  const inside = (held + 0.5) / (answered + 1)
  return { answered, covered, error: Math.sqrt((inside * (1 - inside)) / answered) }
}

function intervalsOf({ a, b }: { a: LevelTotals; b: LevelTotals }): Record<Method, Interval | null> {
  const all = (of: (level: LevelTotals) => Float64Array): Float64Array =>
    of(a).map((value, g) => value + (of(b)[g] ?? 0))
  const events = all((level) => level.events)
  const pooled = designEffect(
    events,
    all((level) => level.hours),
  )
  const pooledShare = shareDesignEffect(
    all((level) => level.successes),
    events,
  )
  const sums = ratioOfSums(a.events, a.hours)
  return {
    rate: clusterRate(a.events, a.hours, pooled),
    ratio: clusterRatio({ ya: a.events, ha: a.hours, yb: b.events, hb: b.hours }, pooled),
    share: clusterShare(a.successes, a.events, pooledShare),
    mean: clusterMean(a.lengths, a.events),
    any: anyEvent(a, b),
    linearised: linearisedInterval(a.events, a.hours),
    jackknife: jackknifeInterval(a.events, a.hours),
    poisson: sums === null ? null : poissonInterval(sums.events, sums.exposure),
  }
}

function anyEvent(a: LevelTotals, b: LevelTotals): Interval | null {
  const fit = fitLevels([a])
  const pooled: PooledDesign | null = needsPooled(a)
    ? pooledAnyEvent(a, b)
    : { deff: 1, clusters: a.hours.length }
  return fit === null || pooled === null ? null : hourlyChance(fit, pooled)
}

function pooledAnyEvent(a: LevelTotals, b: LevelTotals): PooledDesign | null {
  const fit = fitLevels([a, b])
  return fit === null ? null : hourlyDesignEffect(fit)
}

/** The pooled design effect costs a fit of the whole logbook; it serves only where stints with or without events lie in fewer
 *  than two trips. */
function needsPooled(level: LevelTotals): boolean {
  const tripsWith = (outcome: number): number =>
    new Set(level.stintTrip.filter((_, i) => level.stintHappened[i] === outcome)).size
  return tripsWith(1) < 2 || tripsWith(0) < 2
}

function fitLevels(levels: LevelTotals[]) {
  return fitHourlyChance(
    Uint8Array.from(levels.flatMap((level) => level.stintHappened)),
    Float64Array.from(levels.flatMap((level) => level.stintHours)),
    Int32Array.from(levels.flatMap((level) => level.stintTrip)),
    levels[0]?.hours.length ?? 0,
  )
}

import { NO_EVENT_BOUND, tStretch } from "./confidence.ts"
import { poissonInterval } from "./poissonInterval.ts"
import { type RatioOfSums, ratioOfSums } from "./ratioOfSums.ts"

/** What is known from all the data of a question together, for a level too thin to show its own spread between clusters. */
export type PooledDesign = { deff: number; clusters: number }

export type ClusterRate = {
  estimate: number
  low: number
  /** Infinity where nothing bounds it: events, but one cluster in all the data. */
  high: number
  events: number
  exposure: number
  clusters: number
  /** How many times the variance between clusters is the variance of single events that come alone; at least 1. */
  deff: number
  deffFrom: "own" | "pooled"
  /** Degrees of freedom of the t stretch; null without events, where there is none. */
  df: number | null
  method: "effective-count gamma" | "exact bound of no events"
}

/** Events per unit of exposure with a 95% interval that takes clusters, not events, as the sample. y and h hold events and
 *  exposure of each cluster; clusters without exposure are dropped, and null is returned if none is left.
 *
 *  The exact Poisson interval is taken at the effective counts events/deff, and its ends are stretched on the log scale by
 *  t(clusters - 1)/z. Without events the upper end is -log(.025) deff / exposure. Without events, or with all exposure
 *  in one cluster, deff is the pooled one, and the degrees of freedom are its clusters less one.
 *
 *  Sources: Fay & Feuer (1997) Statistics in Medicine 16:791-801 (gamma ends, from memory); Cochran (1977) ch. 6; the
 *  combination is ours, its coverage in tests/simulation. */
export function clusterRate(y: Float64Array, h: Float64Array, pooled: PooledDesign): ClusterRate | null {
  const sums = ratioOfSums(y, h)
  if (sums === null) return null
  const own = ownDesignEffect(sums)
  const deff = own ?? pooled.deff
  const found = {
    estimate: sums.ratio,
    events: sums.events,
    exposure: sums.exposure,
    clusters: sums.clusters,
    deff,
    deffFrom: own === null ? ("pooled" as const) : ("own" as const),
  }
  if (sums.events === 0) {
    const high = (NO_EVENT_BOUND * deff) / sums.exposure
    return { ...found, low: 0, high, df: null, method: "exact bound of no events" }
  }
  const df = (own === null ? pooled.clusters : sums.clusters) - 1
  return { ...found, ...stretchedInterval(sums, deff, df), df, method: "effective-count gamma" }
}

function stretchedInterval(sums: RatioOfSums, deff: number, df: number): { low: number; high: number } {
  if (df < 1) return { low: 0, high: Infinity }
  const plain = poissonInterval(sums.events / deff, sums.exposure / deff)
  const stretch = tStretch(df)
  return {
    low: sums.ratio * (plain.low / sums.ratio) ** stretch,
    high: sums.ratio * (plain.high / sums.ratio) ** stretch,
  }
}

/** Design effect of a rate over all clusters of a question, to serve its thin levels; 1 where it cannot be seen. */
export function designEffect(y: Float64Array, h: Float64Array): PooledDesign {
  const sums = ratioOfSums(y, h)
  return sums === null
    ? { deff: 1, clusters: 0 }
    : { deff: ownDesignEffect(sums) ?? 1, clusters: sums.clusters }
}

/** Jackknife variance of the rate over its variance if events came alone, at least 1; null where it cannot be seen. */
export function ownDesignEffect(sums: RatioOfSums): number | null {
  if (sums.variance === null || sums.events === 0) return null
  return Math.max(1, (sums.variance * sums.exposure ** 2) / sums.events)
}

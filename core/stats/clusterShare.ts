import type { PooledDesign } from "./clusterRate.ts"
import { tStretch } from "./confidence.ts"
import { type RatioOfSums, ratioOfSums } from "./ratioOfSums.ts"
import { clopperPearson } from "./proportionInterval.ts"

export type ClusterShare = {
  estimate: number
  low: number
  high: number
  events: number
  trials: number
  clusters: number
  /** How many times the variance between clusters is the binomial variance; at least 1. */
  deff: number
  deffFrom: "own" | "pooled"
  df: number
  method: "effective-count Clopper-Pearson"
}

/** Share of trials that were events with a 95% interval that takes clusters, not trials, as the sample. x and n hold events
 *  and trials of each cluster, x <= n; clusters without trials are dropped, and null is returned if none is left.
 *
 *  Clopper-Pearson at the effective number of trials trials/deff (z/t(clusters - 1))^2, so the ends stay in [0, 1]. At a
 *  share of 0 or 1, or with all trials in one cluster, deff is the pooled one (for one cluster also the degrees of freedom).
 *
 *  Sources: Korn & Graubard (1998) Survey Methodology 24:193-201 (from memory; here z takes the place of their t with
 *  n - 1 degrees of freedom); Clopper & Pearson (1934) Biometrika 26:404-413. */
export function clusterShare(x: Float64Array, n: Float64Array, pooled: PooledDesign): ClusterShare | null {
  const sums = shareSums(x, n)
  if (sums === null) return null
  const own = ownDesignEffect(sums)
  const deff = own ?? pooled.deff
  const df = (sums.variance === null ? pooled.clusters : sums.clusters) - 1
  return {
    estimate: sums.ratio,
    ...effectiveInterval(sums, deff, df),
    events: sums.events,
    trials: sums.exposure,
    clusters: sums.clusters,
    deff,
    deffFrom: own === null ? "pooled" : "own",
    df,
    method: "effective-count Clopper-Pearson",
  }
}

function effectiveInterval(sums: RatioOfSums, deff: number, df: number): { low: number; high: number } {
  if (df < 1) return { low: 0, high: 1 }
  const shrink = 1 / (deff * tStretch(df) ** 2)
  return clopperPearson(sums.events * shrink, sums.exposure * shrink)
}

/** Design effect of a share over all clusters of a question, to serve its thin levels; 1 where it cannot be seen. */
export function shareDesignEffect(x: Float64Array, n: Float64Array): PooledDesign {
  const sums = shareSums(x, n)
  return sums === null
    ? { deff: 1, clusters: 0 }
    : { deff: ownDesignEffect(sums) ?? 1, clusters: sums.clusters }
}

function ownDesignEffect(sums: RatioOfSums): number | null {
  if (sums.variance === null || sums.events === 0 || sums.events === sums.exposure) return null
  return Math.max(1, (sums.variance * sums.exposure) / (sums.ratio * (1 - sums.ratio)))
}

function shareSums(x: Float64Array, n: Float64Array): RatioOfSums | null {
  for (let g = 0; g < n.length; g++) {
    const events = x[g] ?? 0
    const trials = n[g] ?? 0
    if (events > trials) throw new RangeError(`A cluster cannot hold ${events} events in ${trials} trials.`)
  }
  return ratioOfSums(x, n)
}

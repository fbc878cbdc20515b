import { type PooledDesign, ownDesignEffect } from "./clusterRate.ts"
import { TAIL, tStretch } from "./confidence.ts"
import {
  type JackknifeRatio,
  type TwoLevels,
  clustersOfEither,
  leaveOneOutLogRatios,
  logRatioInterval,
} from "./logRatioJackknife.ts"
import { sum } from "./sum.ts"
import { ratioOfSums } from "./ratioOfSums.ts"
import { betaQuantile } from "./distributions/betaDistribution.ts"
import { betaLower } from "./distributions/incompleteBeta.ts"

/** The ratio is Infinity with no event in b, null with none in either or no exposure in one; its ends and p are null where
 *  nothing can be said: one cluster, or no ratio. Clusters are those that hold either level. */
export type ClusterRatio = JackknifeRatio & { method: "jackknife" | "effective-count binomial" | "none" }

/** Ratio of the rates of two levels, a over b, with a 95% interval and a two-sided p that takes clusters as the sample.
 *  The arrays of events (ya, yb) and exposure (ha, hb) run over the same clusters, 0 where a cluster lacks the level;
 *  clusters with neither level do not count.
 *
 *  Jackknife: delete-one-cluster variance of the log ratio, t on clusters - 1. Where that is not finite (a level without
 *  events, or with all its events or exposure in one cluster) or shows no spread: given the total, the events of a are
 *  binomial; Clopper-Pearson at the counts divided by the larger design effect of the two levels (`pooled` where a level
 *  cannot show its own) and by (t/z)^2; p is twice the smaller tail at the same counts, so it agrees with the interval.
 *
 *  Two shares are compared by the same call with events and trials. The jackknife is then the same formula; the binomial
 *  form takes trials for exposure, which ignores that a share cannot pass 1, so it errs wide, the more so the nearer the
 *  shares are to 1.
 *
 *  Sources: Quenouille (1956); Efron & Tibshirani (1993) ch. 11 (from memory); Przyborowski & Wilenski (1940) Biometrika
 *  31:313-323; the division of counts as in Korn & Graubard (1998). */
export function clusterRatio(levels: TwoLevels, pooled: PooledDesign): ClusterRatio {
  const held = clustersOfEither(levels)
  const clusters = held.ha.length
  const ratio = ratioOfRates(held)
  if (ratio === null || clusters < 2) {
    return { ratio, low: null, high: null, p: null, clusters, df: null, method: "none" }
  }
  const jackknife = logRatioInterval(Math.log(ratio), leaveOneOutLogRatios(held))
  if (jackknife !== null) {
    const { low, high, p, df } = jackknife
    return { ratio, low, high, p, clusters, df, method: "jackknife" }
  }
  const df = clusters - 1
  return { ratio, ...binomialInterval(held, pooled, df), clusters, df, method: "effective-count binomial" }
}

function ratioOfRates({ ya, ha, yb, hb }: TwoLevels): number | null {
  const [eventsA, exposureA, eventsB, exposureB] = [sum(ya), sum(ha), sum(yb), sum(hb)]
  if (exposureA === 0 || exposureB === 0 || eventsA + eventsB === 0) return null
  return eventsA / exposureA / (eventsB / exposureB)
}

function binomialInterval(
  { ya, ha, yb, hb }: TwoLevels,
  pooled: PooledDesign,
  df: number,
): { low: number; high: number; p: number } {
  const deff = Math.max(levelDesignEffect(ya, ha, pooled), levelDesignEffect(yb, hb, pooled))
  const shrink = 1 / (deff * tStretch(df) ** 2)
  const a = sum(ya) * shrink
  const b = sum(yb) * shrink
  const exposureRatio = sum(hb) / sum(ha)
  const shareAtLow = a > 0 ? betaQuantile(TAIL, a, b + 1) : 0
  const otherShareAtHigh = b > 0 ? betaQuantile(TAIL, b, a + 1) : 0
  const equalShare = 1 / (1 + exposureRatio)
  const asManyOrMore = a > 0 ? betaLower(a, b + 1, equalShare) : 1
  const asFewOrFewer = b > 0 ? betaLower(b, a + 1, 1 - equalShare) : 1
  return {
    low: (shareAtLow / (1 - shareAtLow)) * exposureRatio,
    high: ((1 - otherShareAtHigh) / otherShareAtHigh) * exposureRatio,
    p: Math.min(1, 2 * Math.min(asManyOrMore, asFewOrFewer)),
  }
}

function levelDesignEffect(y: Float64Array, h: Float64Array, pooled: PooledDesign): number {
  const sums = ratioOfSums(y, h)
  return (sums === null ? null : ownDesignEffect(sums)) ?? pooled.deff
}

import { tCritical } from "../../core/stats/confidence.ts"
import { ratioOfSums } from "../../core/stats/ratioOfSums.ts"

/** Intervals of a rate over clusters that the product does not use, to be compared with the one it does. Both are symmetric
 *  about the rate, with t on clusters - 1. Source: Cochran (1977) Sampling Techniques, ch. 6 (from memory). */
type Interval = { low: number; high: number }

/** Linearised ratio estimator: variance sum (y - R h)^2 / (G (G - 1) mean(h)^2). */
export function linearisedInterval(y: Float64Array, h: Float64Array): Interval | null {
  const sums = ratioOfSums(y, h)
  if (sums === null || sums.clusters < 2) return null
  const { clusters, exposure, ratio } = sums
  const squares = y.reduce((sum, events, g) => sum + (events - ratio * (h[g] ?? 0)) ** 2, 0)
  return around(ratio, (squares * clusters) / ((clusters - 1) * exposure ** 2), clusters)
}

/** Plain jackknife of the ratio. */
export function jackknifeInterval(y: Float64Array, h: Float64Array): Interval | null {
  const sums = ratioOfSums(y, h)
  if (sums === null || sums.variance === null) return null
  return around(sums.ratio, sums.variance, sums.clusters)
}

function around(ratio: number, variance: number, clusters: number): Interval {
  const reach = tCritical(clusters - 1) * Math.sqrt(variance)
  return { low: ratio - reach, high: ratio + reach }
}

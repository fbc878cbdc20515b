import { jackknifeVariance } from "./jackknife.ts"

/** Cluster totals with the clusters of no exposure taken out. */
export type RatioOfSums = {
  clusters: number
  /** Sum of the numerators, for example events. */
  events: number
  /** Sum of the denominators, for example exposure. */
  exposure: number
  ratio: number
  /** Delete-one-cluster jackknife variance of the ratio about the ratio itself; null where one cluster holds all exposure. */
  variance: number | null
}

/** Ratio of the sums over clusters, sum y / sum h, and its jackknife variance. Clusters with h = 0 are dropped, with
 *  whatever y they hold; null if none is left. The change on leaving a cluster out is -(y - R h)/(H - h), so the variance
 *  is that of the linearised ratio with the leverage correction 1 - h/H. Source: Cochran (1977) Sampling Techniques,
 *  ch. 6 (from memory). */
export function ratioOfSums(y: Float64Array, h: Float64Array): RatioOfSums | null {
  requireTotals(y, h)
  let events = 0
  let exposure = 0
  let clusters = 0
  for (let g = 0; g < h.length; g++) {
    const size = h[g] ?? 0
    if (size === 0) continue
    clusters++
    events += y[g] ?? 0
    exposure += size
  }
  if (clusters === 0) return null
  const ratio = events / exposure
  return { clusters, events, exposure, ratio, variance: variance(y, h, { clusters, exposure, ratio }) }
}

function variance(
  y: Float64Array,
  h: Float64Array,
  { clusters, exposure, ratio }: { clusters: number; exposure: number; ratio: number },
): number | null {
  const changes = new Float64Array(clusters)
  let kept = 0
  for (let g = 0; g < h.length; g++) {
    const size = h[g] ?? 0
    if (size === 0) continue
    const rest = exposure - size
    if (rest <= 0) return null
    changes[kept++] = -((y[g] ?? 0) - ratio * size) / rest
  }
  return jackknifeVariance(changes, 0)
}

/** Throws a RangeError unless y and h are equally long and hold only finite numbers of 0 or more. */
export function requireTotals(y: Float64Array, h: Float64Array): void {
  if (y.length !== h.length) {
    throw new RangeError(
      `Cluster totals must be equally long; there are ${y.length} of one and ${h.length} of the other.`,
    )
  }
  for (const totals of [y, h]) {
    for (const value of totals) {
      if (!(value >= 0 && value < Infinity)) {
        throw new RangeError(`A cluster total must be a finite number of 0 or more; it was given ${value}.`)
      }
    }
  }
}

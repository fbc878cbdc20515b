import { tCritical } from "./confidence.ts"
import {
  type JackknifeRatio,
  type TwoLevels,
  clustersOfEither,
  jackknifeRatio,
  leaveOneOutLogRatios,
} from "./logRatioJackknife.ts"
import { sum } from "./sum.ts"
import { ratioOfSums } from "./ratioOfSums.ts"

export type ClusterMean = {
  estimate: number
  /** null where clusters show no spread: fewer than two of them, or all with one and the same mean. */
  low: number | null
  high: number | null
  clusters: number
  df: number | null
}

/** A relative spread of cluster means below this is rounding, not data. */
const NO_SPREAD = 1e-12

/** Mean of a positive quantity measured on items that come in clusters, with a 95% interval: `sums` holds the sum of the
 *  values in each cluster, `counts` how many there are. Delete-one-cluster jackknife on the scale of the values, t on
 *  clusters - 1. Clusters without values are dropped; null if none is left. Source: Cochran (1977) ch. 6 (from memory). */
export function clusterMean(sums: Float64Array, counts: Float64Array): ClusterMean | null {
  const found = ratioOfSums(sums, counts)
  if (found === null) return null
  const { ratio: estimate, clusters, variance } = found
  if (variance === null || Math.sqrt(variance) <= NO_SPREAD * estimate) {
    return { estimate, low: null, high: null, clusters, df: null }
  }
  const df = clusters - 1
  const reach = tCritical(df) * Math.sqrt(variance)
  return { estimate, low: estimate - reach, high: estimate + reach, clusters, df }
}

/** Ratio of two levels' means, a over b: ya, yb hold sums of values and ha, hb their number in each cluster. Jackknife of the
 *  log ratio as in clusterRatio; ends and p are null where it is not finite, for values are no counts that could stand in. */
export function meanRatio(levels: TwoLevels): JackknifeRatio {
  const held = clustersOfEither(levels)
  const logRatio = Math.log(sum(held.ya) / sum(held.ha)) - Math.log(sum(held.yb) / sum(held.hb))
  return jackknifeRatio(logRatio, leaveOneOutLogRatios(held))
}

import { mean } from "./sum.ts"

/** Delete-one-cluster jackknife of any estimate. `without(g)` is the estimate from all clusters but g. The variance is about the
 *  mean of the leave-one-out estimates; null where it says nothing: fewer than two clusters, or an estimate that is not
 *  finite. `most` is the cluster whose removal changes the estimate most. */
export function deleteOneCluster(
  clusters: number,
  whole: number,
  without: (cluster: number) => number,
): { leaveOneOut: Float64Array; variance: number | null; most: number | null } {
  const leaveOneOut = Float64Array.from({ length: clusters }, (_, g) => without(g))
  if (clusters < 2 || !leaveOneOut.every(Number.isFinite)) return { leaveOneOut, variance: null, most: null }
  const change = leaveOneOut.map((value) => Math.abs(value - whole))
  const most = change.reduce((best, value, g) => (value > (change[best] ?? 0) ? g : best), 0)
  return { leaveOneOut, variance: jackknifeVariance(leaveOneOut), most }
}

/** Delete-one-cluster jackknife variance of an estimate: (G - 1)/G times the sum of squares of the G leave-one-out
 *  estimates about `centre`, by default their mean. Sources: Quenouille (1956) Biometrika 43:353-360; Efron & Tibshirani
 *  (1993) An Introduction to the Bootstrap, ch. 11 (both from memory). */
export function jackknifeVariance(leaveOneOut: Float64Array, centre = mean(leaveOneOut)): number {
  let squares = 0
  for (const value of leaveOneOut) squares += (value - centre) ** 2
  return ((leaveOneOut.length - 1) / leaveOneOut.length) * squares
}

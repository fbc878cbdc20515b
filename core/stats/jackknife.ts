/** Delete-one-cluster jackknife variance of an estimate: (G - 1)/G times the sum of squares of the G leave-one-out
 *  estimates about `centre`, by default their mean. Sources: Quenouille (1956) Biometrika 43:353-360; Efron & Tibshirani
 *  (1993) An Introduction to the Bootstrap, ch. 11 (both from memory). */
export function jackknifeVariance(leaveOneOut: Float64Array, centre = mean(leaveOneOut)): number {
  let squares = 0
  for (const value of leaveOneOut) squares += (value - centre) ** 2
  return ((leaveOneOut.length - 1) / leaveOneOut.length) * squares
}

function mean(values: Float64Array): number {
  let sum = 0
  for (const value of values) sum += value
  return sum / values.length
}

/** log of the sum of exponentials, without overflow; -Infinity of nothing. */
export function logSumExp(logs: Float64Array): number {
  let most = -Infinity
  for (const log of logs) most = Math.max(most, log)
  if (most === -Infinity) return most
  let sum = 0
  for (const log of logs) sum += Math.exp(log - most)
  return most + Math.log(sum)
}

export function sum(values: Float64Array): number {
  let total = 0
  for (const value of values) total += value
  return total
}

/** NaN of nothing. */
export function mean(values: Float64Array): number {
  return sum(values) / values.length
}

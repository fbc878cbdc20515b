import { logGamma } from "../special.ts"

/** Throws a RangeError unless 0 <= y <= m, and m is above 0 and finite, in every row. */
export function requireShares(y: Float64Array, m: Float64Array): void {
  if (y.length !== m.length) throw new RangeError(`There are ${y.length} successes for ${m.length} trials.`)
  y.forEach((successes, i) => {
    const trials = m[i] ?? NaN
    if (!(trials > 0 && trials < Infinity && successes >= 0 && successes <= trials)) {
      throw new RangeError(`Row ${i} has ${successes} successes in ${trials} trials.`)
    }
  })
}

/** log of the number of ways to have y successes in m trials, by row. */
export function logChoose(y: Float64Array, m: Float64Array): Float64Array {
  return y.map((successes, i) => {
    const trials = m[i] ?? 0
    if (successes === 0 || successes === trials) return 0
    return logGamma(trials + 1) - logGamma(successes + 1) - logGamma(trials - successes + 1)
  })
}

/** Sum of y log(y/m) + (m - y) log(1 - y/m). */
export function saturatedBinomial(y: Float64Array, m: Float64Array): number {
  let sum = 0
  for (let i = 0; i < y.length; i++) {
    const successes = y[i] ?? 0
    const trials = m[i] ?? 0
    if (successes > 0 && successes < trials) {
      sum += successes * Math.log(successes / trials)
      sum += (trials - successes) * Math.log1p(-successes / trials)
    }
  }
  return sum
}

/** 1 for rows of successes only, -1 for rows of failures only. */
export function allOrNone(y: Float64Array, m: Float64Array): Int8Array {
  return Int8Array.from(y, (successes, i) => (successes === 0 ? -1 : successes === m[i] ? 1 : 0))
}

import { betaLower, betaQuantile } from "./special.ts"

/** Two-sided p-value of a Student t statistic. Degrees of freedom may be fractional. Source: Abramowitz & Stegun (1964)
 *  26.7.1 with 26.5.2 (from memory); checked in tests/reference. */
export function tTwoSidedP(t: number, df: number): number {
  requireDf(df)
  return betaLower(df / 2, 0.5, df / (df + t * t))
}

/** Quantile of Student's t. Degrees of freedom may be fractional. */
export function tQuantile(p: number, df: number): number {
  requireDf(df)
  if (p === 0.5) return 0
  const x = betaQuantile(2 * Math.min(p, 1 - p), df / 2, 0.5)
  const t = Math.sqrt((df * (1 - x)) / x)
  return p < 0.5 ? -t : t
}

function requireDf(df: number): void {
  if (!(df > 0 && df < Infinity)) {
    throw new RangeError(`Student's t needs finite degrees of freedom above 0; it was given ${df}.`)
  }
}

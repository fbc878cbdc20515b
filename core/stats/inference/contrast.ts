import { tCritical } from "../confidence.ts"
import { fUpper } from "../distributions/fDistribution.ts"
import { type Matrix, dot } from "../matrix/matrix.ts"
import { tTwoSidedP } from "../distributions/studentT.ts"

/** A quantity with its 95% interval by Student's t, and the two-sided p of its being 0. */
export type Estimate = {
  readonly estimate: number
  readonly se: number
  readonly df: number
  readonly low: number
  readonly high: number
  readonly p: number
}

export function tEstimate(estimate: number, se: number, df: number): Estimate {
  const reach = tCritical(df) * se
  return { estimate, se, df, low: estimate - reach, high: estimate + reach, p: tTwoSidedP(estimate / se, df) }
}

/** l'b of a model's coefficients b, whose covariance stands first in `covariance` (parameters beyond them do not matter). */
export function linearContrast(
  contrast: Float64Array,
  coefficients: Float64Array,
  covariance: Matrix,
  df: number,
): Estimate {
  let variance = 0
  for (let j = 0; j < contrast.length; j++)
    for (let i = 0; i < contrast.length; i++)
      variance += (contrast[i] ?? 0) * (contrast[j] ?? 0) * (covariance.data[i + covariance.rows * j] ?? 0)
  return tEstimate(dot(contrast, coefficients), Math.sqrt(variance), df)
}

/** The wider of two intervals, whole: ends are never mixed. */
export function wider<I extends { readonly low: number; readonly high: number }>(a: I, b: I): I {
  return b.high - b.low > a.high - a.low ? b : a
}

/** Test of `columns` coefficients being 0: twice what the log-likelihood loses without them, over their number, read against F
 *  on that number and df. Source: the usual small-sample reading of a likelihood ratio; common practice, no single source. */
export function likelihoodRatioF(
  logLik: number,
  logLikWithout: number,
  columns: number,
  df: number,
): { f: number; p: number } {
  const f = Math.max(0, (2 * (logLik - logLikWithout)) / columns)
  return { f, p: fUpper(f, columns, df) }
}

import { tCritical } from "../confidence.ts"
import { fUpper } from "../distributions/fDistribution.ts"
import { type Matrix, dot, quadraticForm, selectBlock } from "../matrix/matrix.ts"
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
  return Object.freeze({
    estimate,
    se,
    df,
    low: estimate - reach,
    high: estimate + reach,
    p: tTwoSidedP(estimate / se, df),
  })
}

/** l'b of a model's coefficients b, whose covariance stands first in `covariance` (parameters beyond them do not matter). */
export function linearContrast(
  contrast: Float64Array,
  coefficients: Float64Array,
  covariance: Matrix,
  df: number,
): Estimate {
  const variance = quadraticForm(contrast, selectBlock(covariance, contrast.length))
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

import { type Rows, likelihoodOf } from "../likelihood/rows.ts"
import { cholesky, inverse } from "../matrix/cholesky.ts"
import { type Matrix, weightedGram, zeros } from "../matrix/matrix.ts"
import { standardise, undoCoefficients, undoCovariance } from "../matrix/standardise.ts"
import { maximise } from "./fitGlm.ts"
import type { NotFitted } from "./notFitted.ts"

export type LinearFit = {
  readonly kind: "fit"
  readonly coefficients: Float64Array
  /** Residual variance times the inverse of X'WX. */
  readonly covariance: Matrix
  readonly residualSumOfSquares: number
  readonly degreesOfFreedom: number
  /** Residual standard deviation on those degrees of freedom. */
  readonly sigma: number
  /** At the maximum-likelihood sigma. */
  readonly logLik: number
}

/** Weighted least squares. The score of a second step is reckoned from the first step's residuals, which wins back what the
 *  normal equations lose on a badly conditioned design. Null degrees of freedom are refused with a RangeError.
 *  Source: Björck (1996) Numerical Methods for Least Squares Problems, section 2.9, iterative refinement (from memory). */
export function leastSquares(rows: Rows): LinearFit | NotFitted {
  const likelihood = likelihoodOf("gaussian", rows)
  const standardised = standardise(rows.x)
  const { x } = standardised
  const degreesOfFreedom = x.rows - x.cols
  if (degreesOfFreedom < 1) throw new RangeError(`${x.rows} rows leave no spread about ${x.cols} columns.`)
  const found = maximise(x, likelihood, { offset: rows.offset })
  if (found.kind !== "maximum") return { kind: "not fitted", why: "flat" }
  const residualSumOfSquares = -2 * found.logLik
  const variance = residualSumOfSquares / degreesOfFreedom
  const gram = zeros(x.cols, x.cols)
  likelihood.expectInformation()
  weightedGram(x, likelihood.information, gram)
  const factor = cholesky(gram)
  if (factor === null) return { kind: "not fitted", why: "flat" }
  const covariance = inverse(factor)
  covariance.data.forEach((value, at) => {
    covariance.data[at] = value * variance
  })
  likelihood.dispersion?.set(Math.log(residualSumOfSquares / x.rows) / 2)
  return Object.freeze({
    kind: "fit",
    coefficients: undoCoefficients(standardised, found.b),
    covariance: undoCovariance(standardised, covariance),
    residualSumOfSquares,
    degreesOfFreedom,
    sigma: Math.sqrt(variance),
    logLik: likelihood.constants.reduce((sum, constant) => sum + constant, 0) - x.rows / 2,
  })
}

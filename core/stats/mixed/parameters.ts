import type { Matrix } from "../matrix/matrix.ts"

/** Parameters of a model with random intercepts. */
export type MixedParameters = {
  readonly coefficients: Float64Array
  /** Standard deviation of the intercepts, on the scale of the linear predictor. */
  readonly sd: number
  /** theta of a negative binomial (Infinity: a Poisson), sigma of a normal; null for other families. */
  readonly dispersion: number | null
}

/** Where a fit may begin: a model nearby and, if known, its covariance as a fit has it, which says how far to step. */
export type MixedStart = MixedParameters & { readonly covariance?: Matrix | null }

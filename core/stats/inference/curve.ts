import type { Covariates } from "../design/block.ts"
import { type Design, codeRows } from "../design/design.ts"
import { quadraticForm, selectBlock } from "../matrix/matrix.ts"
import type { MixedFit } from "../mixed/fitMixed.ts"
import { type Changes, jackknifedVariance } from "./clusterDeletion.ts"
import { meanInterval, standardisedMean } from "./standardised.ts"

export type CurvePoint = {
  readonly x: number
  readonly mean: number
  readonly low: number
  readonly high: number
}

/** The standardised mean along one covariate, spline, cycle or straight, with a pointwise 95% band: at each value of `grid` the
 *  covariate is set to it in every row, all else as it was. The band takes the larger of the model's variance and, where
 *  `changes` are given, the delete-one-cluster jackknife's, with the sd's part from the model. The fit needs its covariance.
 *  Sources as for standardisedMean; the band is pointwise, not for the curve as a whole. */
export function standardisedCurve(
  fit: MixedFit,
  { design, covariates, weights }: { design: Design; covariates: Covariates; weights: Float64Array },
  { covariate, grid }: { covariate: string; grid: Float64Array },
  { df, changes, clusters }: { df: number; changes: Changes | null; clusters: number },
): CurvePoint[] {
  const { covariance } = fit
  if (covariance === null) throw new RangeError("A band needs a fit with its covariance.")
  const p = fit.coefficients.length
  const spread = fit.sd > 0 ? 1 : 0
  const known = selectBlock(covariance, p + spread)
  const sdVariance = spread === 1 ? (covariance.data[p * (covariance.rows + 1)] ?? 0) : 0
  return Array.from(grid, (x) => {
    const values = new Map(covariates.values).set(covariate, new Float64Array(covariates.rows).fill(x))
    const at = standardisedMean(codeRows(design, { ...covariates, values }), weights, fit.family, fit)
    const own = at.gradient.slice(0, p)
    const model = quadraticForm(at.gradient.slice(0, p + spread), known)
    const jackknife =
      changes === null
        ? 0
        : jackknifedVariance(own, changes, clusters) + (at.gradient[p] ?? 0) ** 2 * sdVariance
    const se = Math.sqrt(Math.max(model, jackknife))
    return Object.freeze({ x, mean: at.mean, ...meanInterval(at.mean, at.scale, se, df) })
  })
}

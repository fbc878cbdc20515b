import type { Covariates } from "../design/block.ts"
import { type Design, codeRows } from "../design/design.ts"
import { quadraticForm, selectBlock } from "../matrix/matrix.ts"
import type { MixedFit } from "../mixed/fitMixed.ts"
import { jackknifedVariance } from "./clusterDeletion.ts"
import type { Changes } from "./deletionSteps.ts"
import { meanInterval, standardisedMean } from "./standardised.ts"

export type CurvePoint = {
  readonly x: number
  readonly mean: number
  readonly low: number
  readonly high: number
}

/** The standardised mean along one quantity, spline, cycle or straight, with a pointwise 95% band: at each value of `grid` the
 *  covariates made of it are set to what it makes them in every row, all else as it was. The band takes the larger of the model's variance and, where
 *  `changes` are given, the delete-one-cluster jackknife's, with the sd's part from the model. The fit needs its covariance.
 *  Sources as for standardisedMean; the band is pointwise, not for the curve as a whole. */
export function standardisedCurve(
  fit: MixedFit,
  { design, covariates, weights }: { design: Design; covariates: Covariates; weights: Float64Array },
  {
    covariates: along,
    grid,
  }: {
    covariates: readonly { readonly name: string; readonly at: (x: number) => number }[]
    grid: Float64Array
  },
  { df, changes, clusters }: { df: number; changes: Changes | null; clusters: number },
): CurvePoint[] {
  const { covariance } = fit
  if (covariance === null) throw new RangeError("A band needs a fit with its covariance.")
  const p = fit.coefficients.length
  const spread = fit.sd > 0 ? 1 : 0
  const known = selectBlock(covariance, p + spread)
  const sdVariance = spread === 1 ? (covariance.data[p * (covariance.rows + 1)] ?? 0) : 0
  return Array.from(grid, (x) => {
    const values = new Map(covariates.values)
    for (const { name, at } of along) values.set(name, new Float64Array(covariates.rows).fill(at(x)))
    const mean = standardisedMean(codeRows(design, { ...covariates, values }), weights, fit.family, fit)
    const own = mean.gradient.slice(0, p)
    const model = quadraticForm(mean.gradient.slice(0, p + spread), known)
    const jackknife =
      changes === null
        ? 0
        : jackknifedVariance(own, changes, clusters) + (mean.gradient[p] ?? 0) ** 2 * sdVariance
    const se = Math.sqrt(Math.max(model, jackknife))
    return Object.freeze({ x, mean: mean.mean, ...meanInterval(mean.mean, mean.scale, se, df) })
  })
}

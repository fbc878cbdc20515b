import { tCritical } from "../confidence.ts"
import type { ClusteredRows } from "../likelihood/rows.ts"
import { dot, multiply, quadraticForm, selectBlock, zeros } from "../matrix/matrix.ts"
import { type MixedFit, fitMixed } from "../mixed/fitMixed.ts"
import type { MixedStart } from "../mixed/parameters.ts"
import { contrastAsColumn, holding, profileInterval } from "./profileInterval.ts"

/** The greatest log-likelihood of a model with random intercepts, all else fitted again (spread and dispersion too), with l'b held
 *  at a value; NaN where it cannot be fitted there. Each fit begins where a likelihood that is a parabola would have its maximum:
 *  the other parameters as far along as they go with l'b in the fit's covariance, which it must have and which, given l'b, says how
 *  far to step. */
export function heldLogLik(
  rows: ClusteredRows,
  fit: MixedFit,
  contrast: Float64Array,
): (value: number) => number {
  const { covariance, family, nodes, coefficients } = fit
  if (covariance === null) throw new RangeError("A likelihood ratio starts from a fit with its covariance.")
  const p = contrast.length
  const whole = new Float64Array(covariance.cols)
  whole.set(contrast)
  const along = new Float64Array(covariance.cols)
  multiply(covariance, whole, along)
  const variance = dot(along, whole)
  const estimate = dot(contrast, coefficients)
  const { pivot } = contrastAsColumn(rows.x, contrast)
  const held = holding(rows, contrast)
  const others = Int32Array.from(along.keys()).filter((j) => j !== pivot)
  const given = zeros(others.length, others.length)
  others.forEach((i, row) =>
    others.forEach((j, col) => {
      given.data[row + given.rows * col] =
        (covariance.data[i + covariance.rows * j] ?? 0) - ((along[i] ?? 0) * (along[j] ?? 0)) / variance
    }),
  )
  const startAt = (value: number): MixedStart => {
    const moved = (at: number): number => ((along[at] ?? 0) * (value - estimate)) / variance
    const spread = fit.sd > 0 ? 1 : 0
    return {
      coefficients: coefficients.map((own, j) => own + moved(j)).filter((_, j) => j !== pivot),
      sd: fit.sd * Math.exp(spread * moved(p)),
      dispersion: fit.dispersion === null ? null : fit.dispersion * Math.exp(moved(p + spread)),
      covariance: given,
    }
  }
  return (value) => {
    const heldRows = { ...rows, ...held(value) }
    const near = fitMixed(heldRows, family, { nodes, covariance: false, start: startAt(value) })
    const found = near.kind === "not fitted" ? fitMixed(heldRows, family, { nodes, covariance: false }) : near
    return found.kind === "separated" || found.kind === "not fitted" ? Number.NaN : found.logLik
  }
}

/** Likelihood-ratio interval of l'b: where twice the log-likelihood with it held (`heldAt`, of heldLogLik) has lost no more than
 *  t(df)^2; 95%. Ends farther than 12 are infinite. The fit must have its covariance. */
export function likelihoodRatioInterval(
  fit: MixedFit,
  contrast: Float64Array,
  df: number,
  heldAt: (value: number) => number,
): { low: number; high: number } {
  const { covariance, coefficients, logLik } = fit
  if (covariance === null)
    throw new RangeError("A likelihood-ratio interval starts from a fit with its covariance.")
  const se = Math.sqrt(quadraticForm(contrast, selectBlock(covariance, contrast.length)))
  return profileInterval({ estimate: dot(contrast, coefficients), se, logLik, heldAt }, tCritical(df) ** 2)
}

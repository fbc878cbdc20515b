import { tCritical } from "../confidence.ts"
import type { ClusteredRows } from "../likelihood/rows.ts"
import { quadraticForm, dot, selectBlock } from "../matrix/matrix.ts"
import { type MixedFit, fitMixed } from "../mixed/fitMixed.ts"
import { holding, profileInterval } from "./profileInterval.ts"

/** Likelihood-ratio interval of l'b of a model with random intercepts: where twice the log-likelihood, all else fitted again
 *  (spread and dispersion too), has lost no more than t(df)^2; 95%. Ends farther than 12 are infinite. The fit must have its
 *  covariance. */
export function likelihoodRatioInterval(
  rows: ClusteredRows,
  fit: MixedFit,
  contrast: Float64Array,
  df: number,
): { low: number; high: number } {
  const { covariance, family, nodes } = fit
  if (covariance === null)
    throw new RangeError("A likelihood-ratio interval starts from a fit with its covariance.")
  const se = Math.sqrt(quadraticForm(contrast, selectBlock(covariance, contrast.length)))
  const held = holding(rows, contrast)
  let start: MixedFit | null = null
  return profileInterval(
    {
      estimate: dot(contrast, fit.coefficients),
      se,
      logLik: fit.logLik,
      heldAt: (value) => {
        const heldRows = { ...rows, ...held(value) }
        const near = start === null ? {} : { start }
        const again = fitMixed(heldRows, family, { nodes, covariance: false, ...near })
        if (again.kind === "separated" || again.kind === "not fitted") return NaN
        start = again
        return again.logLik
      },
    },
    tCritical(df) ** 2,
  )
}

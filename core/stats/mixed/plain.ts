import { fitGlm, maximise, undoDirection } from "../glm/fitGlm.ts"
import { fitNegativeBinomial, thetaOfSpread } from "../glm/fitNegativeBinomial.ts"
import { leastSquares } from "../glm/leastSquares.ts"
import type { NotFitted, Separated } from "../glm/notFitted.ts"
import { type Family, type Rows, likelihoodOf } from "../likelihood/rows.ts"
import { type Matrix, zeros } from "../matrix/matrix.ts"
import { applyToCoefficients, standardise, undoCoefficients } from "../matrix/standardise.ts"
import type { MixedParameters } from "./parameters.ts"

/** A model without random intercepts: its parameters (sd 0), and the covariance of coefficients and log dispersion. */
export type Plain = { kind: "plain"; parameters: MixedParameters; logLik: number; covariance: Matrix }

/** Parameters to begin at, without what else a model has. */
export type Begun = { kind: "begun"; parameters: MixedParameters }

/** The model without random intercepts. `near` are coefficients to begin at. */
export function fitPlain(rows: Rows, family: Family, near?: Float64Array): Plain | Separated | NotFitted {
  if (family === "gaussian") {
    const fit = leastSquares(rows)
    if (fit.kind === "not fitted") return fit
    const n = rows.x.rows
    const sigma = Math.sqrt(fit.residualSumOfSquares / n)
    return {
      kind: "plain",
      parameters: { coefficients: fit.coefficients, sd: 0, dispersion: sigma },
      logLik: fit.logLik,
      covariance: withDispersion(fit.covariance, (sigma / fit.sigma) ** 2, 1 / (2 * n)),
    }
  }
  if (family === "negative binomial") {
    const fit = fitNegativeBinomial(rows, near)
    if (fit.kind === "separated" || fit.kind === "not fitted") return fit
    return {
      kind: "plain",
      parameters: { coefficients: fit.coefficients, sd: 0, dispersion: fit.theta },
      logLik: fit.logLik,
      covariance: fit.covariance,
    }
  }
  const fit = fitGlm(rows, family, near)
  if (fit.kind !== "fit") return fit
  return {
    kind: "plain",
    parameters: { coefficients: fit.coefficients, sd: 0, dispersion: null },
    logLik: fit.logLik,
    covariance: fit.covariance,
  }
}

/** The Poisson model with the theta that its spread suggests, to start a negative binomial from. */
export function poissonStart(rows: Rows, near?: Float64Array): Begun | Separated | NotFitted {
  const likelihood = likelihoodOf("poisson", rows)
  const standardised = standardise(rows.x)
  const start = near === undefined ? undefined : applyToCoefficients(standardised, near)
  const found = maximise(standardised.x, likelihood, { offset: rows.offset, start })
  if (found.kind === "separated") return undoDirection(standardised, found)
  if (found.kind === "not fitted") return found
  const coefficients = undoCoefficients(standardised, found.b)
  return { kind: "begun", parameters: { coefficients, sd: 0, dispersion: thetaOfSpread(likelihood) } }
}

/** The covariance scaled, with a last parameter of its own. */
function withDispersion(covariance: Matrix, factor: number, variance: number): Matrix {
  const p = covariance.cols
  const out = zeros(p + 1, p + 1)
  for (let j = 0; j < p; j++)
    for (let i = 0; i < p; i++) out.data[i + (p + 1) * j] = (covariance.data[i + p * j] ?? 0) * factor
  out.data[p + (p + 1) * p] = variance
  return out
}

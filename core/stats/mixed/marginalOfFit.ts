import type { ClusteredRows, Family } from "../likelihood/rows.ts"
import { applyToCoefficients } from "../matrix/standardise.ts"
import { MarginalLikelihood } from "./marginalLikelihood.ts"
import type { MixedParameters } from "./parameters.ts"
import { type Prepared, prepare } from "./sortRows.ts"

/** A model with known parameters, such as a fit. */
export type KnownModel = MixedParameters & { readonly family: Family }

/** The marginal likelihood of rows, which need not be those fitted, and a model's parameters there. */
export function marginalAt(
  rows: ClusteredRows,
  model: KnownModel,
  nodes: number,
): { marginal: MarginalLikelihood; phi: Float64Array; prepared: Prepared } {
  const poisson = model.family === "negative binomial" && model.dispersion === Infinity
  const prepared = prepare(rows, poisson ? "poisson" : model.family)
  const marginal = new MarginalLikelihood(prepared.sorted, nodes)
  const p = rows.x.cols
  const phi = new Float64Array(marginal.parameters)
  phi.set(applyToCoefficients(prepared.standardised, model.coefficients))
  phi[p] = Math.log(model.sd)
  if (phi.length > p + 1) phi[p + 1] = Math.log(model.dispersion ?? 1)
  return { marginal, phi, prepared }
}

/** Log-likelihood of rows under a model's parameters, random intercepts integrated out, every constant in. */
export function marginalLogLik(rows: ClusteredRows, model: KnownModel, nodes: number): number {
  const { marginal, phi } = marginalAt(rows, model, nodes)
  return marginal.evaluate(phi)
}

import type { NotFitted, Separated } from "../glm/notFitted.ts"
import type { ClusteredRows, Family } from "../likelihood/rows.ts"
import type { MixedFit } from "./fitMixed.ts"
import type { Plain } from "./plain.ts"

/** The model without spread, told as one with sd 0. */
export function withoutSpread(
  { parameters, logLik, covariance }: Plain,
  family: Family,
  rows: ClusteredRows,
  nodes: number,
): MixedFit {
  return Object.freeze({
    kind: "boundary",
    family,
    nodes,
    ...parameters,
    covariance,
    logLik,
    modes: new Float64Array(rows.clusters),
    modeSds: new Float64Array(rows.clusters),
    iterations: 0,
  })
}

/** A Poisson fit told as a negative binomial with infinite theta. */
export function asNegativeBinomial(fit: MixedFit | Separated | NotFitted): MixedFit | Separated | NotFitted {
  if (fit.kind === "separated" || fit.kind === "not fitted") return fit
  return Object.freeze({ ...fit, kind: "boundary", family: "negative binomial", dispersion: Infinity })
}

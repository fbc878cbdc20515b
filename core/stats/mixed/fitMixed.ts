import type { NotFitted, Separated } from "../glm/notFitted.ts"
import type { ClusteredRows, Family } from "../likelihood/rows.ts"
import { cholesky, inverse, solve } from "../matrix/cholesky.ts"
import { type Matrix, dot } from "../matrix/matrix.ts"
import {
  applyToCoefficients,
  applyToCovariance,
  undoCoefficients,
  undoCovariance,
} from "../matrix/standardise.ts"
import { type Ascent, climb } from "../optimise/quasiNewton.ts"
import { asNegativeBinomial, withoutSpread } from "./boundary.ts"
import { MarginalLikelihood } from "./marginalLikelihood.ts"
import { marginalLogLik } from "./marginalOfFit.ts"
import { approximateInverse, observedInformation } from "./observedInformation.ts"
import type { MixedParameters, MixedStart } from "./parameters.ts"
import { fitPlain, poissonStart } from "./plain.ts"
import { type Prepared, prepare } from "./sortRows.ts"

export type MixedFit = MixedParameters & {
  /** "boundary": sd is 0, or theta infinite; `covariance` then leaves that parameter out. */
  readonly kind: "fit" | "boundary"
  readonly family: Family
  readonly nodes: number
  /** Inverse of the observed information in the coefficients, log sd (unless 0), log dispersion (unless infinite or none). */
  readonly covariance: Matrix | null
  /** With every constant. */
  readonly logLik: number
  /** Each cluster's intercept where it is most likely given its data, and the standard deviation about it, which takes the
   *  coefficients for known. A cluster without rows has 0 and sd. */
  readonly modes: Float64Array
  readonly modeSds: Float64Array
  readonly iterations: number
}

export type MixedOptions = {
  /** Quadrature nodes; 1 is Laplace's approximation. Without them: 15, checked by 25 at the maximum, and 51 where they differ
   *  by more than a thousandth in log-likelihood. */
  readonly nodes?: number
  /** A model nearby, such as that of the same rows but one cluster. */
  readonly start?: MixedStart
  /** Holds the standard deviation of the intercepts at a value; at 0 it is the model without any. */
  readonly sd?: number
  /** false saves the time where only estimates are wanted. */
  readonly covariance?: boolean
}

const USUAL_NODES = 15
const CHECKING_NODES = 25
const MANY_NODES = 51
const ENOUGH_ALIKE = 1e-3
/** Below this a standard deviation on the scale of the linear predictor may be on its way to 0, and above this a theta on its
 *  way to infinity: the model without the one or the other is looked at. */
const LITTLE_SPREAD = 0.05
const LITTLE_DISPERSION = 2000
/** The Poisson model is as good as a negative binomial that it comes so near. */
const BOUNDARY_SLACK = 1e-7
/** Where the likelihood falls as the spread leaves 0, it is tried at this too. */
const TRIED_SPREAD = 0.3
const LEAST_AT_START = 0.1
const MOST_AT_START = 2
/** Newton steps end when the log-likelihood could rise by no more than this share of itself. */
const ROUNDING = 1e-15
/** A step of this expected rise, a hundredth of a standard error, changes the information; it is then reckoned again. */
const FAR_ENOUGH = 1e-4

/** Maximum-likelihood fit of a generalised linear model with one normal random intercept a cluster, by adaptive Gauss-Hermite
 *  quadrature. Starts from the model without intercepts; where the likelihood does not rise with their spread, sd is 0 and
 *  that model is the answer; where it rises with theta for ever, the Poisson model is. Deterministic.
 *
 *  Bad shapes and values throw a RangeError; data that cannot be fitted come back as separated or not fitted.
 *  Sources: Pinheiro & Bates (1995) JCGS 4:12-35; Self & Liang (1987) JASA 82:605-610 for the boundary (both from memory). */
export function fitMixed(
  rows: ClusteredRows,
  family: Family,
  options: MixedOptions = {},
): MixedFit | Separated | NotFitted {
  if (options.nodes !== undefined) return fitAt(rows, family, { ...options, nodes: options.nodes })
  const fit = fitAt(rows, family, { ...options, nodes: USUAL_NODES })
  if (fit.kind !== "fit") return fit
  const checked = marginalLogLik(rows, fit, CHECKING_NODES)
  if (Math.abs(checked - fit.logLik) <= ENOUGH_ALIKE) return fit
  return fitAt(rows, family, { ...options, start: fit, nodes: MANY_NODES })
}

type FittingOptions = MixedOptions & { readonly nodes: number }

function fitAt(
  rows: ClusteredRows,
  family: Family,
  options: FittingOptions,
): MixedFit | Separated | NotFitted {
  if (options.sd === 0) {
    const plain = fitPlain(rows, family, coefficientsNear(rows, options))
    return plain.kind === "plain" ? withoutSpread(plain, family, rows, options.nodes) : plain
  }
  const prepared = prepare(rows, family)
  const marginal = new MarginalLikelihood(prepared.sorted, options.nodes)
  const free = options.sd === undefined
  const begun = begin(rows, family, prepared, marginal, options)
  if (begun.kind !== "start") return begun
  const p = rows.x.cols
  const leaving = (at: Float64Array): boolean =>
    (free && (at[p] ?? 0) < Math.log(LITTLE_SPREAD)) ||
    (family === "negative binomial" && (at[p + 1] ?? 0) > Math.log(LITTLE_DISPERSION))
  let found = maximiseMarginal(prepared, marginal, begun.parameters, options.sd, leaving)
  if (!Number.isFinite(found.value)) return { kind: "not fitted", why: "did not converge" }
  if (leaving(found.at)) {
    const nested = nestedFit(rows, family, prepared, marginal, found, options)
    if (nested !== null) return nested
  }
  if (!found.converged) {
    found = maximiseMarginal(prepared, marginal, parametersAt(prepared, found.at), options.sd)
    if (!found.converged) return { kind: "not fitted", why: "did not converge" }
  }
  return finish(prepared, marginal, found, family, options)
}

/** Where to begin: at a model nearby, if one is given and is inside the parameter space; else at the model without intercepts,
 *  with the spread its scores suggest. Where they suggest none, and a try finds none, that model is the answer. */
function begin(
  rows: ClusteredRows,
  family: Family,
  prepared: Prepared,
  marginal: MarginalLikelihood,
  options: FittingOptions,
): { kind: "start"; parameters: MixedStart } | MixedFit | Separated | NotFitted {
  const { start } = options
  if (start !== undefined && start.sd >= LITTLE_SPREAD && start.dispersion !== Infinity)
    return { kind: "start", parameters: start }
  const near = coefficientsNear(rows, options)
  const first = family === "negative binomial" ? poissonStart(rows, near) : fitPlain(rows, family, near)
  if (first.kind === "separated" || first.kind === "not fitted") return first
  let { parameters } = first
  if (parameters.dispersion === Infinity) return poissonAfter(rows, parameters, options)
  let suggested = suggestedSpread(prepared, marginal, parameters)
  if (options.sd === undefined && suggested < LITTLE_SPREAD) {
    const plain = first.kind === "plain" ? first : fitPlain(rows, family, parameters.coefficients)
    if (plain.kind !== "plain") return plain
    if (plain !== first) {
      parameters = plain.parameters
      if (parameters.dispersion === Infinity) return poissonAfter(rows, parameters, options)
      suggested = suggestedSpread(prepared, marginal, parameters)
    }
    if (suggested === 0) {
      const tried = marginalLogLik(rows, { ...parameters, family, sd: TRIED_SPREAD }, options.nodes)
      if (!(tried > plain.logLik)) return withoutSpread(plain, family, rows, options.nodes)
    }
  }
  const sd = Math.max(LEAST_AT_START, Math.min(MOST_AT_START, suggested))
  return { kind: "start", parameters: { ...parameters, sd } }
}

/** The coefficients of a model nearby, where it has these columns. */
const coefficientsNear = ({ x }: ClusteredRows, { start }: FittingOptions): Float64Array | undefined =>
  start?.coefficients.length === x.cols ? start.coefficients : undefined

/** The Poisson model where the one without intercepts has an infinite theta; begun where a model nearby lies, if there is one. */
const poissonAfter = (
  rows: ClusteredRows,
  plain: MixedParameters,
  options: FittingOptions,
): MixedFit | Separated | NotFitted =>
  asNegativeBinomial(
    fitAt(rows, "poisson", { ...options, start: { ...(options.start ?? plain), dispersion: null } }),
  )

/** Where a climb heads for a spread of 0 or an infinite theta: the model without the one or the other, if the likelihood
 *  rises all the way to it. */
function nestedFit(
  rows: ClusteredRows,
  family: Family,
  prepared: Prepared,
  marginal: MarginalLikelihood,
  found: Ascent,
  options: FittingOptions,
): MixedFit | Separated | NotFitted | null {
  const { sd, dispersion, coefficients } = parametersAt(prepared, found.at)
  if (family === "negative binomial" && dispersion !== null && dispersion > LITTLE_DISPERSION) {
    const poisson = fitAt(rows, "poisson", options)
    if (poisson.kind === "separated" || poisson.kind === "not fitted") return poisson
    if (poisson.logLik >= found.value - BOUNDARY_SLACK) return asNegativeBinomial(poisson)
  }
  if (options.sd !== undefined || sd >= LITTLE_SPREAD) return null
  const plain = fitPlain(rows, family, coefficients)
  if (plain.kind !== "plain") return plain
  if (plain.parameters.dispersion === Infinity) return asNegativeBinomial(fitAt(rows, "poisson", options))
  const rises = suggestedSpread(prepared, marginal, plain.parameters) > 0
  return rises && found.value > plain.logLik ? null : withoutSpread(plain, family, rows, options.nodes)
}

/** Spread of intercepts that a model without any suggests: the root of the likelihood's slope in sd^2 at 0, over its curvature
 *  there for normal scores; 0 where the likelihood does not rise with it. */
function suggestedSpread(
  { sorted, standardised }: Prepared,
  marginal: MarginalLikelihood,
  plain: MixedParameters,
): number {
  const { likelihood, start, x } = sorted
  const phi = new Float64Array(marginal.parameters)
  phi.set(applyToCoefficients(standardised, plain.coefficients))
  phi[x.cols] = -Infinity
  if (plain.dispersion !== null) phi[x.cols + 1] = Math.log(plain.dispersion)
  marginal.setParameters(phi)
  likelihood.derivatives(0, x.rows, 0)
  let [slope, curvature] = [0, 0]
  for (let g = 0; g < marginal.clusters; g++) {
    let score = 0
    let information = 0
    for (let i = start[g] ?? 0; i < (start[g + 1] ?? 0); i++) {
      score += likelihood.score[i] ?? 0
      information += likelihood.information[i] ?? 0
    }
    slope += score * score - information
    curvature += information * information
  }
  return Math.sqrt(Math.max(0, slope / curvature))
}

function parametersAt({ sorted, standardised }: Prepared, phi: Float64Array): MixedParameters {
  const p = sorted.x.cols
  return {
    coefficients: undoCoefficients(standardised, phi.slice(0, p)),
    sd: Math.exp(phi[p] ?? 0),
    dispersion: sorted.likelihood.dispersion === null ? null : Math.exp(phi[p + 1] ?? 0),
  }
}

function maximiseMarginal(
  { sorted, standardised }: Prepared,
  marginal: MarginalLikelihood,
  start: MixedStart,
  heldSd: number | undefined,
  until: (at: Float64Array) => boolean = () => false,
): Ascent {
  const p = sorted.x.cols
  const phi = new Float64Array(marginal.parameters)
  phi.set(applyToCoefficients(standardised, start.coefficients))
  phi[p] = Math.log(heldSd ?? start.sd)
  if (start.dispersion !== null) phi[p + 1] = Math.log(start.dispersion)
  const first =
    start.covariance?.cols === phi.length
      ? applyToCovariance(standardised, start.covariance)
      : approximateInverse(marginal, phi)
  if (heldSd !== undefined) clearParameter(first, p)
  const f = (at: Float64Array, gradient: Float64Array): number => {
    const value = marginal.evaluate(at, gradient)
    if (heldSd !== undefined) gradient[p] = 0
    return value
  }
  return climb(f, phi, first, { enough: 1e-11, longest: 2, until })
}

/** Sets a parameter's row and column to 0, so that no step moves it. */
function clearParameter({ cols, data }: Matrix, parameter: number): void {
  for (let j = 0; j < cols; j++) {
    data[parameter + cols * j] = 0
    data[j + cols * parameter] = 0
  }
}

/** Ends the climb with Newton steps on the information itself, and reads off the answer. */
function finish(
  prepared: Prepared,
  marginal: MarginalLikelihood,
  { at, value, gradient, iterations, inverseHessian }: Ascent,
  family: Family,
  { nodes, covariance: wanted = true }: FittingOptions,
): MixedFit | NotFitted {
  const { sorted, standardised } = prepared
  let covariance: Matrix | null = null
  let logLik = value
  for (let moved = wanted; moved;) {
    const factor = cholesky(observedInformation(marginal, at, gradient, nodes, inverseHessian))
    if (factor === null) return { kind: "not fitted", why: "flat" }
    covariance = inverse(factor)
    moved = false
    for (let round = 0; round < 5; round++) {
      const step = solve(factor, gradient)
      const decrement = dot(step, gradient)
      if (decrement < ROUNDING * Math.abs(logLik)) break
      moved = moved || decrement > FAR_ENOUGH
      for (let j = 0; j < at.length; j++) at[j] = (at[j] ?? 0) + (step[j] ?? 0)
      logLik = marginal.evaluate(at, gradient)
      if (Number.isNaN(logLik)) return { kind: "not fitted", why: "did not converge" }
    }
  }
  marginal.findModes(at)
  const sd = Math.exp(at[sorted.x.cols] ?? 0)
  return Object.freeze({
    kind: "fit",
    family,
    nodes,
    ...parametersAt(prepared, at),
    covariance: covariance === null ? null : undoCovariance(standardised, covariance),
    logLik,
    modes: marginal.modes.map((u) => sd * u),
    modeSds: marginal.curvatures.map((c) => sd / Math.sqrt(c)),
    iterations,
  })
}

import type { Likelihood } from "../likelihood/likelihood.ts"
import { type Family, type Rows, likelihoodOf } from "../likelihood/rows.ts"
import { cholesky, inverse, solveInPlace } from "../matrix/cholesky.ts"
import { type Matrix, dot, multiply, multiplyTransposed, weightedGram, zeros } from "../matrix/matrix.ts"
import {
  type Standardised,
  applyToCoefficients,
  standardise,
  undoCoefficients,
  undoCovariance,
} from "../matrix/standardise.ts"
import type { NotFitted, Separated } from "./notFitted.ts"
import { separatingDirection } from "./separation.ts"

export type GlmFit = {
  readonly kind: "fit"
  readonly family: Family
  readonly coefficients: Float64Array
  /** Inverse of the expected information. */
  readonly covariance: Matrix
  /** With every constant, so that models of other families can be compared. */
  readonly logLik: number
  /** Twice what the model that fits every row exactly has more. */
  readonly deviance: number
  readonly iterations: number
}

/** Families without a dispersion to estimate. */
export type GlmFamily = Exclude<Family, "gaussian" | "negative binomial">

/** Maximum-likelihood fit of a generalised linear model by Fisher scoring with step-halving; once the likelihood has settled,
 *  observed information takes the place of expected, so that links that are not canonical converge as fast. The design's
 *  columns must be independent (see design/design.ts). `start` are coefficients of a model nearby.
 *
 *  Bad shapes and values throw a RangeError; data to which no finite coefficients fit best come back as separated, with the
 *  columns' directions. Source: McCullagh & Nelder (1989) Generalized Linear Models, section 2.5 (from memory). */
export function fitGlm(rows: Rows, family: GlmFamily, start?: Float64Array): GlmFit | Separated | NotFitted {
  const likelihood = likelihoodOf(family, rows)
  const standardised = standardise(rows.x)
  const found = maximise(standardised.x, likelihood, {
    offset: rows.offset,
    start: start === undefined ? undefined : applyToCoefficients(standardised, start),
  })
  if (found.kind === "separated") return undoDirection(standardised, found)
  if (found.kind === "not fitted") return found
  return glmFit(family, likelihood, standardised, found)
}

/** The same direction for the columns as they were. */
export function undoDirection(standardised: Standardised, { direction }: Separated): Separated {
  const undone = undoCoefficients(standardised, direction)
  const limit = 1e-6 * undone.reduce((most, value) => Math.max(most, Math.abs(value)), 0)
  return { kind: "separated", direction: undone.map((value) => (Math.abs(value) > limit ? value : 0)) }
}

function glmFit(
  family: Family,
  likelihood: Likelihood,
  standardised: Standardised,
  { b, logLik, iterations }: Maximum,
): GlmFit | NotFitted {
  const information = zeros(b.length, b.length)
  likelihood.expectInformation()
  weightedGram(standardised.x, likelihood.information, information)
  const factor = cholesky(information)
  if (factor === null) return { kind: "not fitted", why: "flat" }
  return Object.freeze({
    kind: "fit",
    family,
    coefficients: undoCoefficients(standardised, b),
    covariance: undoCovariance(standardised, inverse(factor)),
    logLik: logLik + sumOf(likelihood.constants),
    deviance: 2 * (likelihood.saturated() - logLik),
    iterations,
  })
}

export type Maximum = { kind: "maximum"; b: Float64Array; logLik: number; iterations: number }

const MOST_ITERATIONS = 100
const MOST_HALVINGS = 30

/** The coefficients that maximise the likelihood at its present dispersion; leaves the likelihood's predictor there. `logLik`
 *  leaves the constants out. */
export function maximise(
  x: Matrix,
  likelihood: Likelihood,
  { offset, start }: { offset?: Float64Array | undefined; start?: Float64Array | undefined },
): Maximum | Separated | NotFitted {
  const n = x.rows
  const eta = new Float64Array(n)
  const score = new Float64Array(x.cols)
  const information = zeros(x.cols, x.cols)
  const begin = start?.slice() ?? startNearData(x, likelihood, offset)
  if (begin === null) return { kind: "not fitted", why: "flat" }
  let b = begin
  const logLikAt = (at: Float64Array): number => {
    setPredictor(x, at, offset, eta)
    likelihood.setPredictor(eta)
    return likelihood.logLik(0, n, 0)
  }
  let logLik = logLikAt(b)
  let settled = false
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    likelihood.derivatives(0, n, 0)
    multiplyTransposed(x, likelihood.score, score)
    if (!settled) likelihood.expectInformation()
    weightedGram(x, likelihood.information, information)
    const factor = cholesky(information)
    if (factor === null) return unbounded(x, likelihood, eta) ?? { kind: "not fitted", why: "flat" }
    const step = score.slice()
    solveInPlace(factor, step)
    const decrement = dot(score, step)
    const before = logLik
    let size = 1
    let next = b
    for (let halving = 0; halving <= MOST_HALVINGS; halving++, size /= 2) {
      next = b.map((value, j) => value + size * (step[j] ?? 0))
      logLik = logLikAt(next)
      if (logLik >= before - 1e-12 * Math.abs(before)) break
    }
    if (!(logLik >= before - 1e-9 * (Math.abs(before) + 1))) {
      return unbounded(x, likelihood, eta) ?? { kind: "not fitted", why: "did not converge" }
    }
    b = next
    if (decrement < 1e-14 * (Math.abs(logLik) + 1)) {
      return unbounded(x, likelihood, eta) ?? { kind: "maximum", b, logLik, iterations: iteration }
    }
    settled = settled || decrement < 1e-2 * (Math.abs(logLik) + 1)
  }
  return unbounded(x, likelihood, eta) ?? { kind: "not fitted", why: "did not converge" }
}

/** A row whose likelihood rises for ever and hardly rises any more: a share within 1e-7 of 0 or 1. */
const FLAT = 1e-7

/** Looks for separation where some row has gone far to its unbounded side. */
function unbounded(x: Matrix, likelihood: Likelihood, eta: Float64Array): Separated | null {
  likelihood.derivatives(0, x.rows, 0)
  const far = likelihood.unbounded.some(
    (side, i) => (side !== 0 && Math.abs(likelihood.score[i] ?? 0) < FLAT) || Number.isNaN(eta[i]),
  )
  if (!far) return null
  const direction = separatingDirection(x, likelihood.unbounded)
  return direction === null ? null : { kind: "separated", direction }
}

export function setPredictor(
  x: Matrix,
  b: Float64Array,
  offset: Float64Array | undefined,
  eta: Float64Array,
): void {
  multiply(x, b, eta)
  if (offset !== undefined) for (let i = 0; i < eta.length; i++) eta[i] = (eta[i] ?? 0) + (offset[i] ?? 0)
}

/** Weighted least-squares coefficients of a linear predictor near the data. Null where they cannot be told apart. */
function startNearData(
  x: Matrix,
  likelihood: Likelihood,
  offset: Float64Array | undefined,
): Float64Array | null {
  const target = new Float64Array(x.rows)
  likelihood.nearData(target)
  likelihood.setPredictor(target)
  likelihood.derivatives(0, x.rows, 0)
  likelihood.expectInformation()
  const { score, information } = likelihood
  for (let i = 0; i < x.rows; i++)
    target[i] = (score[i] ?? 0) + (information[i] ?? 0) * ((target[i] ?? 0) - (offset?.[i] ?? 0))
  const b = new Float64Array(x.cols)
  multiplyTransposed(x, target, b)
  const gram = zeros(x.cols, x.cols)
  weightedGram(x, information, gram)
  const factor = cholesky(gram)
  if (factor === null) return null
  solveInPlace(factor, b)
  return b
}

function sumOf(values: Float64Array): number {
  let sum = 0
  for (const value of values) sum += value
  return sum
}

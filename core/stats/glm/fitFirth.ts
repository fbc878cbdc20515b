import { type Rows, likelihoodOf } from "../likelihood/rows.ts"
import { type Cholesky, cholesky, inverse, logDeterminant, solve } from "../matrix/cholesky.ts"
import { type Matrix, dot, multiplyTransposed, quadraticForm, weightedGram, zeros } from "../matrix/matrix.ts"
import { type Standardised, scaleColumns, undoCoefficients, undoCovariance } from "../matrix/standardise.ts"
import { setPredictor } from "./fitGlm.ts"
import type { NotFitted } from "./notFitted.ts"

export type FirthFit = {
  readonly kind: "fit"
  readonly coefficients: Float64Array
  /** Inverse of the expected information at the estimates. */
  readonly covariance: Matrix
  /** Log-likelihood plus half the log of the information's determinant. */
  readonly penalisedLogLik: number
  readonly iterations: number
}

export type FirthFamily = "binomial logit" | "binomial cloglog" | "poisson"

/** A coefficient held at a value. */
export type Held = { readonly column: number; readonly value: number }

const MOST_ITERATIONS = 500
/** Where no step raises the likelihood any more, one that promises less than this share of it is rounding. */
const ROUNDING = 1e-11

/** Bias-reduced fit of a binomial or Poisson model: the maximum of log L + log det(X'WX)/2, W the expected information, which is
 *  finite where the data are separated. A coefficient may be held at a value while the penalty stays that of the whole design, as
 *  tests and intervals by penalised profile likelihood want it. Row i's part of the score is its own plus h w'/2w, h its leverage, w
 *  its expected information. By the complementary log-log link, which is not canonical, the penalty (Jeffreys') no longer
 *  takes away the first-order bias exactly, but still keeps every coefficient finite. `start` are coefficients of a model nearby.
 *  Sources: Firth (1993) Biometrika 80:27-38; Heinze & Schemper (2002) Statistics in Medicine 21:2409-2419; for other links
 *  Kosmidis & Firth (2021) Biometrika 108:71-82 (all from memory). */
export function fitFirth(
  rows: Rows,
  family: FirthFamily,
  { held, start }: { readonly held?: Held; readonly start?: Float64Array } = {},
): FirthFit | NotFitted {
  const likelihood = likelihoodOf(family, rows)
  const scaled = scaleColumns(rows.x)
  const { x } = scaled
  const free = Array.from({ length: x.cols }, (_, j) => j).filter((j) => j !== held?.column)
  const eta = new Float64Array(x.rows)
  const information = zeros(x.cols, x.cols)
  let factor: Cholesky | null = null
  const penalisedAt = (b: Float64Array): number => {
    setPredictor(x, b, rows.offset, eta)
    likelihood.setPredictor(eta)
    likelihood.derivatives(0, x.rows, 0)
    likelihood.expectInformation()
    weightedGram(x, likelihood.information, information)
    factor = cholesky(information, 1e-14)
    return factor === null ? -Infinity : likelihood.logLik(0, x.rows, 0) + logDeterminant(factor) / 2
  }
  let b = start?.map((at, j) => at * (scaled.scale[j] ?? 1)) ?? new Float64Array(x.cols)
  if (held !== undefined) b[held.column] = held.value * (scaled.scale[held.column] ?? 1)
  let value = penalisedAt(b)
  let last = NaN
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    if (factor === null) return { kind: "not fitted", why: "flat" }
    const score = penalisedScore(x, likelihood.score, likelihood.informationSlope, factor)
    const step = solveFor(information, score, free)
    if (step === null) return { kind: "not fitted", why: "flat" }
    const decrement = dot(score, step)
    const stalled = value === last && decrement < ROUNDING * (1 + Math.abs(value))
    last = value
    if (stalled || decrement < 1e-18 * (1 + Math.abs(value))) {
      return firthFit(scaled, b, information, value, likelihood.constants, iteration)
    }
    const longest = step.reduce((most, move) => Math.max(most, Math.abs(move)), 0)
    const before = value
    const from = b
    for (let size = Math.min(1, 5 / longest), halving = 0; halving < 30; size /= 2, halving++) {
      b = from.map((at, j) => at + size * (step[j] ?? 0))
      value = penalisedAt(b)
      if (value >= before - 1e-14 * Math.abs(before)) break
    }
  }
  return { kind: "not fitted", why: "did not converge" }
}

function firthFit(
  scaled: Standardised,
  b: Float64Array,
  information: Matrix,
  value: number,
  constants: Float64Array,
  iterations: number,
): FirthFit | NotFitted {
  const factor = cholesky(information, 1e-14)
  if (factor === null) return { kind: "not fitted", why: "flat" }
  const rescaled = scaled.scale.reduce((sum, scale) => sum + Math.log(scale), 0)
  return Object.freeze({
    kind: "fit",
    coefficients: undoCoefficients(scaled, b),
    covariance: undoCovariance(scaled, inverse(factor)),
    penalisedLogLik: value + rescaled + constants.reduce((sum, constant) => sum + constant, 0),
    iterations,
  })
}

/** Every row's derivative of the penalised log-likelihood by its linear predictor. */
export function penalisedRowScores(
  x: Matrix,
  score: Float64Array,
  informationSlope: Float64Array,
  factor: Cholesky,
): Float64Array {
  const spread = inverse(factor)
  const pulled = score.slice()
  const row = new Float64Array(x.cols)
  for (let i = 0; i < x.rows; i++) {
    for (let j = 0; j < x.cols; j++) row[j] = x.data[i + x.rows * j] ?? 0
    const distance = quadraticForm(row, spread)
    pulled[i] = (pulled[i] ?? 0) + ((informationSlope[i] ?? 0) * distance) / 2
  }
  return pulled
}

function penalisedScore(
  x: Matrix,
  score: Float64Array,
  varianceSlope: Float64Array,
  factor: Cholesky,
): Float64Array {
  const out = new Float64Array(x.cols)
  multiplyTransposed(x, penalisedRowScores(x, score, varianceSlope, factor), out)
  return out
}

/** The step of the free coefficients, 0 for the others. */
function solveFor(information: Matrix, score: Float64Array, free: readonly number[]): Float64Array | null {
  const size = free.length
  const part = zeros(size, size)
  free.forEach((j, k) => {
    free.forEach((i, l) => {
      part.data[l + size * k] = information.data[i + information.cols * j] ?? 0
    })
  })
  const factor = cholesky(part, 1e-14)
  if (factor === null) return null
  const step = new Float64Array(score.length)
  solve(
    factor,
    Float64Array.from(free, (j) => score[j] ?? 0),
  ).forEach((move, k) => {
    step[free[k] ?? 0] = move
  })
  return step
}

import { type Likelihood } from "../likelihood/likelihood.ts"
import { type Rows, likelihoodOf } from "../likelihood/rows.ts"
import { cholesky, inverse, solveInPlace } from "../matrix/cholesky.ts"
import { type Matrix, dot, multiplyTransposed, weightedGram, zeros } from "../matrix/matrix.ts"
import { applyToCoefficients, standardise, undoCoefficients, undoCovariance } from "../matrix/standardise.ts"
import { type Maximum, maximise, setPredictor, undoDirection } from "./fitGlm.ts"
import type { NotFitted, Separated } from "./notFitted.ts"

export type NegativeBinomialFit = {
  readonly kind: "fit" | "boundary"
  readonly coefficients: Float64Array
  /** Infinity at the boundary: no more spread than the Poisson's was found, and the fit is its fit. */
  readonly theta: number
  /** Inverse of the observed information in the coefficients and log theta; at the boundary in the coefficients alone. */
  readonly covariance: Matrix
  readonly logLik: number
  /** Log-likelihood of the Poisson model of the same mean. */
  readonly poissonLogLik: number
  readonly iterations: number
}

const MOST_ITERATIONS = 100
const BOUNDS = { least: -7, most: 14 }

/** Maximum-likelihood fit of a negative binomial model (NB2, variance mu + mu^2/theta) with log link: Newton's method on the
 *  coefficients and log theta together, from the Poisson fit and a moment estimate of theta. Where the likelihood falls as
 *  1/theta leaves 0, theta is infinite. Sources: Lawless (1987) Canadian Journal of Statistics 15:209-225; Hilbe (2011)
 *  Negative Binomial Regression (both from memory). `near` are coefficients of a model nearby. */
export function fitNegativeBinomial(
  rows: Rows,
  near?: Float64Array,
): NegativeBinomialFit | Separated | NotFitted {
  const standardised = standardise(rows.x)
  const { x } = standardised
  const poisson = likelihoodOf("poisson", rows)
  const start = maximise(x, poisson, {
    offset: rows.offset,
    start: near === undefined ? undefined : applyToCoefficients(standardised, near),
  })
  if (start.kind === "separated") return undoDirection(standardised, start)
  if (start.kind === "not fitted") return start
  const poissonLogLik = start.logLik + poisson.constants.reduce((sum, value) => sum + value, 0)
  const theta = thetaOfSpread(poisson)
  const found =
    theta === Infinity
      ? poissonMaximum(x, poisson, start)
      : maximiseJointly(x, likelihoodOf("negative binomial", rows), rows.offset, start.b, Math.log(theta))
  if (found.kind === "not fitted") return found
  return Object.freeze({
    kind: found.theta === Infinity ? "boundary" : "fit",
    coefficients: undoCoefficients(standardised, found.b),
    theta: found.theta,
    covariance: undoCovariance(standardised, found.covariance),
    logLik: found.theta === Infinity ? poissonLogLik : found.logLik,
    poissonLogLik,
    iterations: start.iterations + found.iterations,
  })
}

/** The moment estimate of theta about the Poisson fit at which the likelihood stands: that at which the sum of (y - mu)^2 - y is
 *  what the negative binomial expects of it, the sum of mu^2/theta; Infinity where counts spread no more than a Poisson's. Half of
 *  the former is the slope of the log-likelihood by 1/theta at 0. */
export function thetaOfSpread(poisson: Likelihood): number {
  poisson.derivatives(0, poisson.rows, 0)
  const { score, information } = poisson
  let [excess, squares] = [0, 0]
  for (let i = 0; i < score.length; i++) {
    const residual = score[i] ?? 0
    const mean = information[i] ?? 0
    excess += residual * residual - residual - mean
    squares += mean * mean
  }
  return excess > 0 ? squares / excess : Infinity
}

type Joint = {
  kind: "maximum"
  b: Float64Array
  theta: number
  logLik: number
  covariance: Matrix
  iterations: number
}

function poissonMaximum(x: Matrix, likelihood: Likelihood, { b, logLik }: Maximum): Joint | NotFitted {
  const information = zeros(x.cols, x.cols)
  weightedGram(x, likelihood.information, information)
  const factor = cholesky(information)
  if (factor === null) return { kind: "not fitted", why: "flat" }
  return { kind: "maximum", b, theta: Infinity, logLik, covariance: inverse(factor), iterations: 0 }
}

function maximiseJointly(
  x: Matrix,
  likelihood: Likelihood,
  offset: Float64Array | undefined,
  start: Float64Array,
  startDelta: number,
): Joint | NotFitted {
  const { dispersion } = likelihood
  if (dispersion === null) return { kind: "not fitted", why: "flat" }
  const n = x.rows
  const p = x.cols
  const eta = new Float64Array(n)
  const logLikAt = (at: Float64Array): number => {
    dispersion.set(at[p] ?? 0)
    setPredictor(x, at.subarray(0, p), offset, eta)
    likelihood.setPredictor(eta)
    return likelihood.logLik(0, n, 0) + likelihood.constants.reduce((sum, value) => sum + value, 0)
  }
  let at = Float64Array.of(...start, Math.max(BOUNDS.least, Math.min(BOUNDS.most, startDelta)))
  let logLik = logLikAt(at)
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    const { score, information } = jointDerivatives(x, likelihood, dispersion)
    const factor = cholesky(information) ?? cholesky(withoutCross(information))
    if (factor === null) return { kind: "not fitted", why: "flat" }
    const step = score.slice()
    solveInPlace(factor, step)
    const decrement = dot(score, step)
    if (decrement < 1e-15 * (Math.abs(logLik) + 1)) {
      const theta = (at[p] ?? 0) >= BOUNDS.most ? Infinity : Math.exp(at[p] ?? 0)
      return {
        kind: "maximum",
        b: at.slice(0, p),
        theta,
        logLik,
        covariance: inverse(factor),
        iterations: iteration,
      }
    }
    const longest = Math.max(1, Math.abs(step[p] ?? 0) / 2)
    const before = logLik
    let next = at
    for (let halving = 0, size = 1 / longest; halving <= 30; halving++, size /= 2) {
      next = at.map((value, j) => value + size * (step[j] ?? 0))
      next[p] = Math.max(BOUNDS.least, Math.min(BOUNDS.most, next[p] ?? 0))
      logLik = logLikAt(next)
      if (logLik >= before - 1e-12 * Math.abs(before)) break
    }
    if (!(logLik >= before - 1e-9 * Math.abs(before))) return { kind: "not fitted", why: "did not converge" }
    at = next
  }
  return { kind: "not fitted", why: "did not converge" }
}

/** Score and observed information in the coefficients and the dispersion, in this order. */
function jointDerivatives(
  x: Matrix,
  likelihood: Likelihood,
  dispersion: NonNullable<Likelihood["dispersion"]>,
): { score: Float64Array; information: Matrix } {
  const p = x.cols
  likelihood.derivatives(0, x.rows, 0)
  dispersion.changes(0, x.rows, 0)
  const score = new Float64Array(p + 1)
  multiplyTransposed(x, likelihood.score, score)
  score[p] = dispersion.slope(0, x.rows, 0)
  const block = zeros(p, p)
  weightedGram(x, likelihood.information, block)
  const cross = new Float64Array(p)
  multiplyTransposed(x, dispersion.scoreSlope, cross)
  const information = zeros(p + 1, p + 1)
  for (let j = 0; j < p; j++) {
    for (let i = 0; i < p; i++) information.data[i + (p + 1) * j] = block.data[i + p * j] ?? 0
    information.data[p + (p + 1) * j] = -(cross[j] ?? 0)
    information.data[j + (p + 1) * p] = -(cross[j] ?? 0)
  }
  information.data[p + (p + 1) * p] = dispersion.curvature(0, x.rows, 0)
  return { score, information }
}

/** The information with the last parameter alone and its own positive. */
function withoutCross({ rows, cols, data }: Matrix): Matrix {
  const last = cols - 1
  const out = { rows, cols, data: data.slice() }
  for (let j = 0; j < last; j++) {
    out.data[last + cols * j] = 0
    out.data[j + cols * last] = 0
  }
  out.data[last + cols * last] = Math.abs(data[last + cols * last] ?? 1) + 1e-6
  return out
}

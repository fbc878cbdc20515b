/** The log-likelihood of independent rows as a function of each row's linear predictor eta, and for some families of one
 *  dispersion parameter, taken on the log scale. What a generalised linear model and one with a random intercept both need:
 *  rows `from` to `to - 1` can be looked at with a common `shift` added to their eta, which is where an intercept of their own
 *  enters. An object belongs to one data set, holds the state set last, and writes into its own arrays; nothing is allocated
 *  after it is made. */
export interface Likelihood {
  readonly rows: number
  /** Writes a linear predictor close to each row's own best into `eta`, kept from infinity: where a fit may begin. */
  nearData(eta: Float64Array): void
  /** Sets eta of every row. */
  setPredictor(eta: Float64Array): void
  /** What of each row's log-likelihood does not depend on eta; follows the dispersion. */
  readonly constants: Float64Array
  /** Sum of what does depend on eta. */
  logLik(from: number, to: number, shift: number): number
  /** Fills `score`, `information` and `informationSlope` for these rows. */
  derivatives(from: number, to: number, shift: number): void
  /** d log-likelihood / d eta of each row. */
  readonly score: Float64Array
  /** Minus its second derivative by eta: observed information. */
  readonly information: Float64Array
  /** d information / d eta. */
  readonly informationSlope: Float64Array
  /** Fills `informationBend`, the second derivative of information by eta, for these rows. */
  bend(from: number, to: number, shift: number): void
  readonly informationBend: Float64Array
  /** Fills `information` with its expectation under the model, for all rows without a shift: Fisher scoring. Families without a
   *  dispersion, whose derivatives were asked for just before, then have its slope in `informationSlope`. */
  expectInformation(): void
  /** Log-likelihood, constants left out, of the model that fits every row exactly, at the present dispersion. */
  saturated(): number
  /** Where a row's log-likelihood has no maximum: 1 where it rises for ever with eta (only successes), -1 where it falls for
   *  ever (no event), 0 where it turns. */
  readonly unbounded: Int8Array
  readonly dispersion: Dispersion | null
}

/** The dispersion parameter delta, on the log scale: log theta of a negative binomial, log sigma of a normal. */
export interface Dispersion {
  readonly value: number
  set(delta: number): void
  /** Sum of d log-likelihood / d delta over rows for which the log-likelihood was asked last, with the same shift. */
  slope(from: number, to: number, shift: number): number
  /** Sum of minus the second derivative by delta. */
  curvature(from: number, to: number, shift: number): number
  /** Fills `scoreSlope` and `informationChange` for these rows. */
  changes(from: number, to: number, shift: number): void
  /** d score / d delta of each row. */
  readonly scoreSlope: Float64Array
  /** d information / d delta of each row. */
  readonly informationChange: Float64Array
}

/** The largest linear predictor whose exponential still is a number. */
const MOST = 700

/** Writes exp(eta), kept finite and above 0, into `out`. */
export function exponentials(eta: Float64Array, out: Float64Array): void {
  for (let i = 0; i < eta.length; i++) out[i] = Math.exp(Math.min(MOST, Math.max(-MOST, eta[i] ?? 0)))
}

/** Throws a RangeError unless every count is a whole number of 0 or more. */
export function requireCounts(what: string, y: Float64Array): void {
  for (let i = 0; i < y.length; i++) {
    const value = y[i] ?? NaN
    if (!(Number.isInteger(value) && value >= 0))
      throw new RangeError(`${what} must be whole numbers of 0 or more; it was given ${value}.`)
  }
}

/** The weights, each above 0 and finite, or ones. Throws a RangeError where they are not, or not one a row. */
export function rowWeights(rows: number, weights: Float64Array | undefined): Float64Array {
  if (weights === undefined) return new Float64Array(rows).fill(1)
  if (weights.length !== rows) throw new RangeError(`There are ${weights.length} weights for ${rows} rows.`)
  const wrong = weights.find((weight) => !(weight > 0 && weight < Infinity))
  if (wrong !== undefined) throw new RangeError(`A weight must be above 0 and finite; it was given ${wrong}.`)
  return weights
}

/** -1 for rows without event. */
export function fallingWithoutEvents(y: Float64Array): Int8Array {
  const side = new Int8Array(y.length)
  for (let i = 0; i < y.length; i++) side[i] = y[i] === 0 ? -1 : 0
  return side
}

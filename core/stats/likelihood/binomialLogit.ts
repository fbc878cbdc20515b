import { type Likelihood, exponentials } from "./likelihood.ts"
import { allOrNone, logChoose, requireShares, saturatedBinomial } from "./trials.ts"

/** y successes in m trials, the logit of a success's probability being eta. y and m need not be whole: both times a weight
 *  weigh a row. Without m each row is one trial. */
export class BinomialLogit implements Likelihood {
  readonly rows: number
  readonly constants: Float64Array
  readonly score: Float64Array
  readonly information: Float64Array
  readonly informationSlope: Float64Array
  readonly unbounded: Int8Array
  readonly dispersion = null
  private readonly y: Float64Array
  private readonly m: Float64Array
  private readonly eta: Float64Array
  private readonly odds: Float64Array

  constructor(y: Float64Array, m: Float64Array = new Float64Array(y.length).fill(1)) {
    requireShares(y, m)
    this.rows = y.length
    this.y = y
    this.m = m
    this.constants = logChoose(y, m)
    this.score = new Float64Array(y.length)
    this.information = new Float64Array(y.length)
    this.informationSlope = new Float64Array(y.length)
    this.unbounded = allOrNone(y, m)
    this.eta = new Float64Array(y.length)
    this.odds = new Float64Array(y.length)
  }

  nearData(eta: Float64Array): void {
    for (let i = 0; i < this.rows; i++) {
      const share = ((this.y[i] ?? 0) + 0.5) / ((this.m[i] ?? 0) + 1)
      eta[i] = Math.log(share / (1 - share))
    }
  }

  setPredictor(eta: Float64Array): void {
    this.eta.set(eta)
    exponentials(eta, this.odds)
  }

  logLik(from: number, to: number, shift: number): number {
    const { y, m, eta, odds } = this
    const factor = Math.exp(shift)
    let sum = 0
    for (let i = from; i < to; i++) {
      const e = factor * (odds[i] ?? 0)
      const predictor = (eta[i] ?? 0) + shift
      const logOnePlus = e < 1 ? Math.log1p(e) : predictor + Math.log1p(1 / e)
      sum += (y[i] ?? 0) * predictor - (m[i] ?? 0) * logOnePlus
    }
    return sum
  }

  derivatives(from: number, to: number, shift: number): void {
    const { y, m, odds, score, information, informationSlope } = this
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const e = factor * (odds[i] ?? 0)
      const failure = 1 / (1 + e)
      const success = e < 1 ? e * failure : 1 / (1 + 1 / e)
      const variance = (m[i] ?? 0) * success * failure
      score[i] = (y[i] ?? 0) - (m[i] ?? 0) * success
      information[i] = variance
      informationSlope[i] = variance * (failure - success)
    }
  }

  expectInformation(): void {
    this.derivatives(0, this.rows, 0)
  }

  saturated(): number {
    return saturatedBinomial(this.y, this.m)
  }
}

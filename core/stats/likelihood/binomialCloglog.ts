import { type Likelihood, exponentials } from "./likelihood.ts"
import { allOrNone, logChoose, requireShares, saturatedBinomial } from "./trials.ts"

/** y successes in m trials with probability 1 - exp(-exp(eta)): the complementary log-log link, by which eta is the log of
 *  the rate of a Poisson stream that shows at least one event. y and m as in BinomialLogit.
 *
 *  With e = exp(eta) and r = e/(exp(e) - 1): the score is y r - (m - y) e, and dr/deta = r (1 - r - e). */
export class BinomialCloglog implements Likelihood {
  readonly rows: number
  readonly constants: Float64Array
  readonly score: Float64Array
  readonly information: Float64Array
  readonly informationSlope: Float64Array
  readonly unbounded: Int8Array
  readonly dispersion = null
  private readonly y: Float64Array
  private readonly m: Float64Array
  private readonly rate: Float64Array

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
    this.rate = new Float64Array(y.length)
  }

  nearData(eta: Float64Array): void {
    for (let i = 0; i < this.rows; i++) {
      const share = ((this.y[i] ?? 0) + 0.5) / ((this.m[i] ?? 0) + 1)
      eta[i] = Math.log(-Math.log1p(-share))
    }
  }

  setPredictor(eta: Float64Array): void {
    exponentials(eta, this.rate)
  }

  logLik(from: number, to: number, shift: number): number {
    const { y, m, rate } = this
    const factor = Math.exp(shift)
    let sum = 0
    for (let i = from; i < to; i++) {
      const e = factor * (rate[i] ?? 0)
      const successes = y[i] ?? 0
      if (successes > 0) sum += successes * Math.log(-Math.expm1(-e))
      sum -= ((m[i] ?? 0) - successes) * e
    }
    return sum
  }

  derivatives(from: number, to: number, shift: number): void {
    const { y, m, rate, score, information, informationSlope } = this
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const e = factor * (rate[i] ?? 0)
      const successes = y[i] ?? 0
      const failing = ((m[i] ?? 0) - successes) * e
      const r = e / Math.expm1(e)
      const bend = e < 1e-4 ? e / 2 + (e * e) / 12 : r + e - 1
      const slope = -r * bend
      score[i] = successes * r - failing
      information[i] = successes * r * bend + failing
      informationSlope[i] = successes * (slope * bend + r * (slope + e)) + failing
    }
  }

  expectInformation(): void {
    for (let i = 0; i < this.rows; i++) {
      const e = this.rate[i] ?? 0
      this.information[i] = (this.m[i] ?? 0) * (e / Math.expm1(e)) * e
    }
  }

  saturated(): number {
    return saturatedBinomial(this.y, this.m)
  }
}

import { BinomialRows } from "./binomialRows.ts"
import type { Likelihood } from "./likelihood.ts"

/** y successes in m trials, the logit of a success's probability being eta. y and m need not be whole: both times a weight
 *  weigh a row. Without m each row is one trial. */
export class BinomialLogit extends BinomialRows implements Likelihood {
  nearData(eta: Float64Array): void {
    for (let i = 0; i < this.rows; i++) {
      const share = this.share(i)
      eta[i] = Math.log(share / (1 - share))
    }
  }

  logLik(from: number, to: number, shift: number): number {
    const { y, m, eta, exponential } = this
    const factor = Math.exp(shift)
    let sum = 0
    for (let i = from; i < to; i++) {
      const e = factor * (exponential[i] ?? 0)
      const predictor = (eta[i] ?? 0) + shift
      const logOnePlus = e < 1 ? Math.log1p(e) : predictor + Math.log1p(1 / e)
      sum += (y[i] ?? 0) * predictor - (m[i] ?? 0) * logOnePlus
    }
    return sum
  }

  derivatives(from: number, to: number, shift: number): void {
    const { y, m, exponential, score, information, informationSlope } = this
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const e = factor * (exponential[i] ?? 0)
      const failure = 1 / (1 + e)
      const success = e < 1 ? e * failure : 1 / (1 + 1 / e)
      const variance = (m[i] ?? 0) * success * failure
      score[i] = (y[i] ?? 0) - (m[i] ?? 0) * success
      information[i] = variance
      informationSlope[i] = variance * (failure - success)
    }
  }

  bend(from: number, to: number, shift: number): void {
    const { m, exponential, informationBend } = this
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const e = factor * (exponential[i] ?? 0)
      const failure = 1 / (1 + e)
      const success = e < 1 ? e * failure : 1 / (1 + 1 / e)
      const product = success * failure
      informationBend[i] = (m[i] ?? 0) * product * ((failure - success) ** 2 - 2 * product)
    }
  }

  expectInformation(): void {
    this.derivatives(0, this.rows, 0)
  }
}

import { BinomialRows } from "./binomialRows.ts"
import type { Likelihood } from "./likelihood.ts"

/** -(dr/d eta)/r = r + e - 1, by its series where that would cancel. */
const bendOf = (e: number, r: number): number => (e < 1e-4 ? e / 2 + (e * e) / 12 : r + e - 1)

/** y successes in m trials with probability 1 - exp(-exp(eta)): the complementary log-log link, by which eta is the log of
 *  the rate of a Poisson stream that shows at least one event. y and m as in BinomialLogit.
 *
 *  With e = exp(eta) and r = e/(exp(e) - 1): the score is y r - (m - y) e, and dr/deta = r (1 - r - e). */
export class BinomialCloglog extends BinomialRows implements Likelihood {
  nearData(eta: Float64Array): void {
    for (let i = 0; i < this.rows; i++) {
      const share = this.share(i)
      eta[i] = Math.log(-Math.log1p(-share))
    }
  }

  logLik(from: number, to: number, shift: number): number {
    const { y, m, exponential } = this
    const factor = Math.exp(shift)
    let sum = 0
    for (let i = from; i < to; i++) {
      const e = factor * (exponential[i] ?? 0)
      const successes = y[i] ?? 0
      if (successes > 0) sum += successes * Math.log(-Math.expm1(-e))
      sum -= ((m[i] ?? 0) - successes) * e
    }
    return sum
  }

  derivatives(from: number, to: number, shift: number): void {
    const { y, m, exponential, score, information, informationSlope } = this
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const e = factor * (exponential[i] ?? 0)
      const successes = y[i] ?? 0
      const failing = ((m[i] ?? 0) - successes) * e
      const r = e / Math.expm1(e)
      const bend = bendOf(e, r)
      const slope = -r * bend
      score[i] = successes * r - failing
      information[i] = successes * r * bend + failing
      informationSlope[i] = successes * (slope * bend + r * (slope + e)) + failing
    }
  }

  bend(from: number, to: number, shift: number): void {
    const { y, m, exponential, informationBend } = this
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const e = factor * (exponential[i] ?? 0)
      const successes = y[i] ?? 0
      const r = e / Math.expm1(e)
      const bend = bendOf(e, r)
      const slope = -r * bend
      const slopeOfSlope = -(slope * bend + r * (slope + e))
      informationBend[i] =
        successes * (slopeOfSlope * (bend + r) + 2 * slope * (slope + e) + r * e) +
        ((m[i] ?? 0) - successes) * e
    }
  }

  expectInformation(): void {
    for (let i = 0; i < this.rows; i++) {
      const e = this.exponential[i] ?? 0
      const r = e / Math.expm1(e)
      const information = (this.m[i] ?? 0) * r * e
      this.information[i] = information
      this.informationSlope[i] = information * (2 - r - e)
    }
  }
}

import { digamma, logGamma, trigamma } from "../special.ts"

/** Sums run to this count; beyond it gamma functions take over, whose differences there lose no digits that matter. */
const SUMMED = 1000

/** log of theta (theta + 1) ... (theta + y - 1) / theta^y, that is the sum of log(1 + k/theta) over k < y, with its first two
 *  derivatives by log theta, for every distinct count of a data set. `index[i]` says where row i's count stands. */
export class RisingFactorials {
  readonly index: Int32Array
  readonly logs: Float64Array
  readonly firsts: Float64Array
  readonly seconds: Float64Array
  private readonly counts: Float64Array

  constructor(y: Float64Array) {
    this.counts = Float64Array.from(new Set(y)).sort()
    const place = new Map<number, number>()
    this.counts.forEach((count, at) => place.set(count, at))
    this.index = new Int32Array(y.length)
    for (let i = 0; i < y.length; i++) this.index[i] = place.get(y[i] ?? 0) ?? 0
    this.logs = new Float64Array(this.counts.length)
    this.firsts = new Float64Array(this.counts.length)
    this.seconds = new Float64Array(this.counts.length)
  }

  setTheta(theta: number): void {
    let [log, first, second, k] = [0, 0, 0, 0]
    for (let at = 0; at < this.counts.length; at++) {
      const count = this.counts[at] ?? 0
      if (count > SUMMED && theta < 1e5) {
        const slope = digamma(count + theta) - digamma(theta)
        this.logs[at] = logGamma(count + theta) - logGamma(theta) - count * Math.log(theta)
        this.firsts[at] = theta * slope - count
        this.seconds[at] = theta * slope + theta * theta * (trigamma(count + theta) - trigamma(theta))
        continue
      }
      for (; k < count; k++) {
        const share = k / (theta + k)
        log += Math.log1p(k / theta)
        first -= share
        second += share * (1 - share)
      }
      this.logs[at] = log
      this.firsts[at] = first
      this.seconds[at] = second
    }
  }
}

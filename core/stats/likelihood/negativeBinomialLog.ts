import { logGamma } from "../special.ts"
import { type Dispersion, type Likelihood, exponentials, fallingWithoutEvents, requireCounts, rowWeights } from "./likelihood.ts"
import { RisingFactorials } from "./risingFactorials.ts"

/** Negative binomial counts (NB2) with log mean eta and variance mu + mu^2/theta; its dispersion parameter is log theta.
 *  y and weights as in PoissonLog. Written so that nothing cancels as theta grows and the Poisson is neared:
 *  sum over k < y of log(1 + k/theta) + y log mu - log y! - (theta + y) log(1 + mu/theta).
 *  Source: Lawless (1987) Canadian Journal of Statistics 15:209-225 (from memory). */
export class NegativeBinomialLog implements Likelihood {
  readonly rows: number
  readonly constants: Float64Array
  readonly score: Float64Array
  readonly information: Float64Array
  readonly informationSlope: Float64Array
  readonly unbounded: Int8Array
  readonly dispersion: Dispersion
  private readonly y: Float64Array
  private readonly weight: Float64Array
  private readonly eta: Float64Array
  private readonly mean: Float64Array
  private readonly logFactorials: Float64Array
  private theta = 1

  constructor(y: Float64Array, weights?: Float64Array) {
    requireCounts("Negative binomial counts", y)
    this.rows = y.length
    this.y = y
    this.weight = rowWeights(y.length, weights)
    this.logFactorials = y.map((count) => logGamma(count + 1))
    this.constants = new Float64Array(y.length)
    this.score = new Float64Array(y.length)
    this.information = new Float64Array(y.length)
    this.informationSlope = new Float64Array(y.length)
    this.unbounded = fallingWithoutEvents(y)
    this.eta = new Float64Array(y.length)
    this.mean = new Float64Array(y.length)
    const rising = new RisingFactorials(y)
    this.dispersion = new LogTheta(y, this.weight, this.mean, rising, (theta) => {
      this.theta = theta
      for (let i = 0; i < this.rows; i++) {
        this.constants[i] =
          (this.weight[i] ?? 0) * ((rising.logs[rising.index[i] ?? 0] ?? 0) - (this.logFactorials[i] ?? 0))
      }
    })
    this.dispersion.set(0)
  }

  setPredictor(eta: Float64Array): void {
    this.eta.set(eta)
    exponentials(eta, this.mean)
  }

  logLik(from: number, to: number, shift: number): number {
    const { y, weight, eta, mean, theta } = this
    const factor = Math.exp(shift) / theta
    let sum = 0
    for (let i = from; i < to; i++) {
      const count = y[i] ?? 0
      sum +=
        (weight[i] ?? 0) *
        (count * ((eta[i] ?? 0) + shift) - (theta + count) * Math.log1p(factor * (mean[i] ?? 0)))
    }
    return sum
  }

  derivatives(from: number, to: number, shift: number): void {
    const { y, weight, mean, theta, score, information, informationSlope } = this
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const count = y[i] ?? 0
      const mu = factor * (mean[i] ?? 0)
      const per = 1 / (theta + mu)
      const w = (weight[i] ?? 0) * theta * per
      const observed = w * (theta + count) * mu * per
      score[i] = w * (count - mu)
      information[i] = observed
      informationSlope[i] = observed * (theta - mu) * per
    }
  }

  expectInformation(): void {
    for (let i = 0; i < this.rows; i++) {
      const mu = this.mean[i] ?? 0
      this.information[i] = ((this.weight[i] ?? 0) * mu) / (1 + mu / this.theta)
    }
  }

  saturated(): number {
    let sum = 0
    for (let i = 0; i < this.rows; i++) {
      const count = this.y[i] ?? 0
      if (count > 0) {
        sum +=
          (this.weight[i] ?? 0) *
          (count * Math.log(count) - (this.theta + count) * Math.log1p(count / this.theta))
      }
    }
    return sum
  }
}

class LogTheta implements Dispersion {
  value = 0
  first = 0
  second = 0
  readonly scoreSlope: Float64Array
  readonly informationChange: Float64Array
  private readonly y: Float64Array
  private readonly weight: Float64Array
  private readonly mean: Float64Array
  private readonly rising: RisingFactorials
  private readonly changed: (theta: number) => void

  constructor(
    y: Float64Array,
    weight: Float64Array,
    mean: Float64Array,
    rising: RisingFactorials,
    changed: (theta: number) => void,
  ) {
    this.y = y
    this.weight = weight
    this.mean = mean
    this.rising = rising
    this.changed = changed
    this.scoreSlope = new Float64Array(y.length)
    this.informationChange = new Float64Array(y.length)
  }

  set(delta: number): void {
    this.value = delta
    const theta = Math.exp(delta)
    this.rising.setTheta(theta)
    this.changed(theta)
  }

  derivatives(from: number, to: number, shift: number): void {
    const { y, weight, mean, rising, scoreSlope, informationChange } = this
    const theta = Math.exp(this.value)
    const factor = Math.exp(shift)
    let first = 0
    let second = 0
    for (let i = from; i < to; i++) {
      const count = y[i] ?? 0
      const w = weight[i] ?? 0
      const at = rising.index[i] ?? 0
      const mu = factor * (mean[i] ?? 0)
      const per = 1 / (theta + mu)
      const flat = theta * Math.log1p(mu / theta)
      const pull = theta * mu * per * per
      first += w * ((rising.firsts[at] ?? 0) - flat + (theta + count) * mu * per)
      second -= w * ((rising.seconds[at] ?? 0) - flat + theta * mu * per + pull * (mu - count))
      scoreSlope[i] = w * pull * (count - mu)
      informationChange[i] = w * pull * per * (theta * (2 * mu - count) + count * mu)
    }
    this.first = first
    this.second = second
  }
}

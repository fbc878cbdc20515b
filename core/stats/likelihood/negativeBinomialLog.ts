import { logFactorials } from "../special.ts"
import {
  type Dispersion,
  type Likelihood,
  fallingWithoutEvents,
  requireCounts,
  rowWeights,
} from "./likelihood.ts"
import { RisingFactorials } from "./risingFactorials.ts"
import { RowArrays } from "./rowArrays.ts"

/** Negative binomial counts (NB2) with log mean eta and variance mu + mu^2/theta; its dispersion parameter is log theta.
 *  y and weights as in PoissonLog. Written so that nothing cancels as theta grows and the Poisson is neared:
 *  sum over k < y of log(1 + k/theta) + y log mu - log y! - (theta + y) log(1 + mu/theta).
 *  Source: Lawless (1987) Canadian Journal of Statistics 15:209-225 (from memory). */
export class NegativeBinomialLog extends RowArrays implements Likelihood {
  readonly dispersion: Dispersion
  private readonly y: Float64Array
  private readonly weight: Float64Array
  /** log(1 + mu/theta) of rows whose log-likelihood was asked for last. */
  private readonly logs: Float64Array
  private theta = 1

  constructor(y: Float64Array, weights?: Float64Array) {
    requireCounts("Negative binomial counts", y)
    super(new Float64Array(y.length), fallingWithoutEvents(y))
    this.y = y
    const weight = rowWeights(y.length, weights)
    this.weight = weight
    this.logs = new Float64Array(y.length)
    const factorials = logFactorials(y)
    const rising = new RisingFactorials(y)
    const shared = { y, weight, mean: this.exponential, logs: this.logs, rising }
    this.dispersion = new LogTheta(shared, (theta) => {
      this.theta = theta
      for (let i = 0; i < this.rows; i++) {
        const rise = rising.logs[rising.index[i] ?? 0] ?? 0
        this.constants[i] = (weight[i] ?? 0) * (rise - (factorials[i] ?? 0))
      }
    })
    this.dispersion.set(0)
  }

  nearData(eta: Float64Array): void {
    for (let i = 0; i < this.rows; i++) eta[i] = Math.log((this.y[i] ?? 0) + 0.1)
  }

  logLik(from: number, to: number, shift: number): number {
    const { y, weight, eta, exponential, logs, theta } = this
    const factor = Math.exp(shift) / theta
    let sum = 0
    for (let i = from; i < to; i++) {
      const count = y[i] ?? 0
      const log = Math.log1p(factor * (exponential[i] ?? 0))
      logs[i] = log
      sum += (weight[i] ?? 0) * (count * ((eta[i] ?? 0) + shift) - (theta + count) * log)
    }
    return sum
  }

  derivatives(from: number, to: number, shift: number): void {
    const { y, weight, exponential, theta, score, information, informationSlope } = this
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const count = y[i] ?? 0
      const mu = factor * (exponential[i] ?? 0)
      const per = 1 / (theta + mu)
      const w = (weight[i] ?? 0) * theta * per
      const observed = w * (theta + count) * mu * per
      score[i] = w * (count - mu)
      information[i] = observed
      informationSlope[i] = observed * (theta - mu) * per
    }
  }

  bend(from: number, to: number, shift: number): void {
    const { y, weight, exponential, theta, informationBend } = this
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const mu = factor * (exponential[i] ?? 0)
      const per = 1 / (theta + mu)
      const observed = (weight[i] ?? 0) * theta * (theta + (y[i] ?? 0)) * mu * per * per
      informationBend[i] = observed * (theta * theta - 4 * theta * mu + mu * mu) * per * per
    }
  }

  expectInformation(): void {
    for (let i = 0; i < this.rows; i++) {
      const mu = this.exponential[i] ?? 0
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

type Shared = {
  y: Float64Array
  weight: Float64Array
  mean: Float64Array
  logs: Float64Array
  rising: RisingFactorials
}

class LogTheta implements Dispersion {
  value = 0
  readonly scoreSlope: Float64Array
  readonly informationChange: Float64Array
  private readonly rows: Shared
  private readonly changed: (theta: number) => void

  constructor(rows: Shared, changed: (theta: number) => void) {
    this.rows = rows
    this.changed = changed
    this.scoreSlope = new Float64Array(rows.y.length)
    this.informationChange = new Float64Array(rows.y.length)
  }

  set(delta: number): void {
    this.value = delta
    const theta = Math.exp(delta)
    this.rows.rising.setTheta(theta)
    this.changed(theta)
  }

  slope(from: number, to: number, shift: number): number {
    const { y, weight, mean, logs, rising } = this.rows
    const theta = Math.exp(this.value)
    const factor = Math.exp(shift)
    let sum = 0
    for (let i = from; i < to; i++) {
      const mu = factor * (mean[i] ?? 0)
      const rise = rising.firsts[rising.index[i] ?? 0] ?? 0
      sum += (weight[i] ?? 0) * (rise - theta * (logs[i] ?? 0) + ((theta + (y[i] ?? 0)) * mu) / (theta + mu))
    }
    return sum
  }

  curvature(from: number, to: number, shift: number): number {
    const { y, weight, mean, rising } = this.rows
    const theta = Math.exp(this.value)
    const factor = Math.exp(shift)
    let sum = 0
    for (let i = from; i < to; i++) {
      const mu = factor * (mean[i] ?? 0)
      const share = mu / (theta + mu)
      const rise = rising.seconds[rising.index[i] ?? 0] ?? 0
      const rest = theta * (share - Math.log1p(mu / theta))
      const pull = (theta * share * (mu - (y[i] ?? 0))) / (theta + mu)
      sum -= (weight[i] ?? 0) * (rise + rest + pull)
    }
    return sum
  }

  changes(from: number, to: number, shift: number): void {
    const { y, weight, mean } = this.rows
    const { scoreSlope, informationChange } = this
    const theta = Math.exp(this.value)
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const count = y[i] ?? 0
      const mu = factor * (mean[i] ?? 0)
      const per = 1 / (theta + mu)
      const pull = (weight[i] ?? 0) * theta * mu * per * per
      scoreSlope[i] = pull * (count - mu)
      informationChange[i] = pull * per * (theta * (2 * mu - count) + count * mu)
    }
  }
}

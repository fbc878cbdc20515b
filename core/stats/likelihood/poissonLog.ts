import { logGamma } from "../special.ts"
import {
  type Likelihood,
  exponentials,
  fallingWithoutEvents,
  requireCounts,
  rowWeights,
} from "./likelihood.ts"

/** Poisson counts with log mean eta. y are whole numbers; a row's weight says how many rows like it there are. */
export class PoissonLog implements Likelihood {
  readonly rows: number
  readonly constants: Float64Array
  readonly score: Float64Array
  readonly information: Float64Array
  readonly informationSlope: Float64Array
  readonly unbounded: Int8Array
  readonly dispersion = null
  private readonly y: Float64Array
  private readonly weight: Float64Array
  private readonly eta: Float64Array
  private readonly mean: Float64Array

  constructor(y: Float64Array, weights?: Float64Array) {
    requireCounts("Poisson counts", y)
    this.rows = y.length
    this.y = y
    this.weight = rowWeights(y.length, weights)
    this.constants = y.map((count, i) => -(this.weight[i] ?? 1) * logGamma(count + 1))
    this.score = new Float64Array(y.length)
    this.information = new Float64Array(y.length)
    this.informationSlope = new Float64Array(y.length)
    this.unbounded = fallingWithoutEvents(y)
    this.eta = new Float64Array(y.length)
    this.mean = new Float64Array(y.length)
  }

  nearData(eta: Float64Array): void {
    for (let i = 0; i < this.rows; i++) eta[i] = Math.log((this.y[i] ?? 0) + 0.1)
  }

  setPredictor(eta: Float64Array): void {
    this.eta.set(eta)
    exponentials(eta, this.mean)
  }

  logLik(from: number, to: number, shift: number): number {
    const { y, weight, eta, mean } = this
    const factor = Math.exp(shift)
    let sum = 0
    for (let i = from; i < to; i++) {
      sum += (weight[i] ?? 0) * ((y[i] ?? 0) * ((eta[i] ?? 0) + shift) - factor * (mean[i] ?? 0))
    }
    return sum
  }

  derivatives(from: number, to: number, shift: number): void {
    const { y, weight, mean, score, information, informationSlope } = this
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const mu = factor * (mean[i] ?? 0)
      const w = weight[i] ?? 0
      score[i] = w * ((y[i] ?? 0) - mu)
      information[i] = w * mu
      informationSlope[i] = w * mu
    }
  }

  expectInformation(): void {
    for (let i = 0; i < this.rows; i++) this.information[i] = (this.weight[i] ?? 0) * (this.mean[i] ?? 0)
  }

  saturated(): number {
    let sum = 0
    for (let i = 0; i < this.rows; i++) {
      const count = this.y[i] ?? 0
      if (count > 0) sum += (this.weight[i] ?? 0) * count * (Math.log(count) - 1)
    }
    return sum
  }
}

import { logFactorials } from "../special.ts"
import { type Likelihood, fallingWithoutEvents, requireCounts, rowWeights } from "./likelihood.ts"
import { RowArrays } from "./rowArrays.ts"

/** Poisson counts with log mean eta. y are whole numbers; a row's weight says how many rows like it there are. */
export class PoissonLog extends RowArrays implements Likelihood {
  readonly dispersion = null
  private readonly y: Float64Array
  private readonly weight: Float64Array

  constructor(y: Float64Array, weights?: Float64Array) {
    requireCounts("Poisson counts", y)
    const weight = rowWeights(y.length, weights)
    super(
      logFactorials(y).map((log, i) => -(weight[i] ?? 1) * log),
      fallingWithoutEvents(y),
    )
    this.y = y
    this.weight = weight
  }

  nearData(eta: Float64Array): void {
    for (let i = 0; i < this.rows; i++) eta[i] = Math.log((this.y[i] ?? 0) + 0.1)
  }

  logLik(from: number, to: number, shift: number): number {
    const { y, weight, eta, exponential } = this
    const factor = Math.exp(shift)
    let sum = 0
    for (let i = from; i < to; i++) {
      sum += (weight[i] ?? 0) * ((y[i] ?? 0) * ((eta[i] ?? 0) + shift) - factor * (exponential[i] ?? 0))
    }
    return sum
  }

  derivatives(from: number, to: number, shift: number): void {
    const { y, weight, exponential, score, information, informationSlope } = this
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++) {
      const mu = factor * (exponential[i] ?? 0)
      const w = weight[i] ?? 0
      score[i] = w * ((y[i] ?? 0) - mu)
      information[i] = w * mu
      informationSlope[i] = w * mu
    }
  }

  bend(from: number, to: number, shift: number): void {
    const factor = Math.exp(shift)
    for (let i = from; i < to; i++)
      this.informationBend[i] = (this.weight[i] ?? 0) * factor * (this.exponential[i] ?? 0)
  }

  expectInformation(): void {
    for (let i = 0; i < this.rows; i++)
      this.information[i] = (this.weight[i] ?? 0) * (this.exponential[i] ?? 0)
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

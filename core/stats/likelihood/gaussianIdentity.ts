import { type Dispersion, type Likelihood, rowWeights } from "./likelihood.ts"
import { RowArrays } from "./rowArrays.ts"

/** Normal values with mean eta and standard deviation exp(delta), over the square root of a row's weight. */
export class GaussianIdentity extends RowArrays implements Likelihood {
  readonly dispersion: Dispersion
  private readonly y: Float64Array
  private readonly weight: Float64Array
  private precision = 1

  constructor(y: Float64Array, weights?: Float64Array) {
    const wrong = y.find((value) => !Number.isFinite(value))
    if (wrong !== undefined) throw new RangeError(`Values must be finite; it was given ${wrong}.`)
    super(new Float64Array(y.length), new Int8Array(y.length))
    this.y = y
    this.weight = rowWeights(y.length, weights)
    this.dispersion = new LogSigma(this, (sigma) => this.setSigma(sigma))
    this.dispersion.set(0)
  }

  private setSigma(sigma: number): void {
    this.precision = 1 / sigma ** 2
    const constant = -Math.log(2 * Math.PI) / 2 - Math.log(sigma)
    this.weight.forEach((weight, i) => {
      this.constants[i] = constant + Math.log(weight) / 2
    })
  }

  nearData(eta: Float64Array): void {
    eta.set(this.y)
  }

  override setPredictor(eta: Float64Array): void {
    this.eta.set(eta)
  }

  logLik(from: number, to: number, shift: number): number {
    const { y, weight, eta } = this
    let squares = 0
    for (let i = from; i < to; i++) {
      squares += (weight[i] ?? 0) * ((y[i] ?? 0) - (eta[i] ?? 0) - shift) ** 2
    }
    return (-squares * this.precision) / 2
  }

  derivatives(from: number, to: number, shift: number): void {
    const { y, weight, eta, score, information, informationSlope, precision } = this
    for (let i = from; i < to; i++) {
      const w = (weight[i] ?? 0) * precision
      score[i] = w * ((y[i] ?? 0) - (eta[i] ?? 0) - shift)
      information[i] = w
      informationSlope[i] = 0
    }
  }

  bend(from: number, to: number): void {
    this.informationBend.fill(0, from, to)
  }

  expectInformation(): void {
    this.derivatives(0, this.rows, 0)
  }

  saturated(): number {
    return 0
  }
}

/** log sigma: the log-likelihood is -delta - r^2 exp(-2 delta)/2 in it, r a row's residual. */
class LogSigma implements Dispersion {
  value = 0
  readonly scoreSlope: Float64Array
  readonly informationChange: Float64Array
  private readonly normal: GaussianIdentity
  private readonly changed: (sigma: number) => void

  constructor(normal: GaussianIdentity, changed: (sigma: number) => void) {
    this.normal = normal
    this.changed = changed
    this.scoreSlope = new Float64Array(normal.rows)
    this.informationChange = new Float64Array(normal.rows)
  }

  set(delta: number): void {
    this.value = delta
    this.changed(Math.exp(delta))
  }

  slope(from: number, to: number, shift: number): number {
    return -2 * this.normal.logLik(from, to, shift) - (to - from)
  }

  curvature(from: number, to: number, shift: number): number {
    return -4 * this.normal.logLik(from, to, shift)
  }

  changes(from: number, to: number, shift: number): void {
    this.normal.derivatives(from, to, shift)
    const { score, information } = this.normal
    for (let i = from; i < to; i++) {
      this.scoreSlope[i] = -2 * (score[i] ?? 0)
      this.informationChange[i] = -2 * (information[i] ?? 0)
    }
  }
}

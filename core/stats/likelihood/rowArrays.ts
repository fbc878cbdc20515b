import { exponentials } from "./likelihood.ts"

/** What the likelihoods of all families hold a value a row of: see Likelihood. */
export abstract class RowArrays {
  readonly rows: number
  readonly constants: Float64Array
  readonly unbounded: Int8Array
  readonly score: Float64Array
  readonly information: Float64Array
  readonly informationSlope: Float64Array
  readonly informationBend: Float64Array
  protected readonly eta: Float64Array
  /** exp(eta), kept finite and above 0. */
  protected readonly exponential: Float64Array

  constructor(constants: Float64Array, unbounded: Int8Array) {
    const rows = constants.length
    this.rows = rows
    this.constants = constants
    this.unbounded = unbounded
    this.score = new Float64Array(rows)
    this.information = new Float64Array(rows)
    this.informationSlope = new Float64Array(rows)
    this.informationBend = new Float64Array(rows)
    this.eta = new Float64Array(rows)
    this.exponential = new Float64Array(rows)
  }

  setPredictor(eta: Float64Array): void {
    this.eta.set(eta)
    exponentials(eta, this.exponential)
  }
}

import { RowArrays } from "./rowArrays.ts"
import { allOrNone, logChoose, requireShares, saturatedBinomial } from "./trials.ts"

/** y successes in m trials, one a row without m. They need not be whole: both times a weight weigh a row. */
export abstract class BinomialRows extends RowArrays {
  readonly dispersion = null
  protected readonly y: Float64Array
  protected readonly m: Float64Array

  constructor(y: Float64Array, m: Float64Array = new Float64Array(y.length).fill(1)) {
    requireShares(y, m)
    super(logChoose(y, m), allOrNone(y, m))
    this.y = y
    this.m = m
  }

  /** The share that a row's data suggest, kept from 0 and 1. */
  protected share(i: number): number {
    return ((this.y[i] ?? 0) + 0.5) / ((this.m[i] ?? 0) + 1)
  }

  saturated(): number {
    return saturatedBinomial(this.y, this.m)
  }
}

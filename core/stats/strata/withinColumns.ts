import { type Matrix, column, selectColumns, zeros } from "../matrix/matrix.ts"
import { independentColumns } from "../matrix/rank.ts"

/** Less than this of a column's length within strata is rounding. */
const TOLERANCE = 1e-9

/** The columns of x less their means in each stratum: all that a comparison within strata can see of them. */
function centredInStrata(x: Matrix, stratum: Int32Array, strata: number): Matrix {
  const centred = zeros(x.rows, x.cols)
  const counts = new Float64Array(strata)
  for (const s of stratum) counts[s] = (counts[s] ?? 0) + 1
  const sums = new Float64Array(strata)
  for (let j = 0; j < x.cols; j++) {
    sums.fill(0)
    const from = column(x, j)
    const to = column(centred, j)
    for (let i = 0; i < x.rows; i++) {
      const s = stratum[i] ?? 0
      sums[s] = (sums[s] ?? 0) + (from[i] ?? 0)
    }
    let [whole, left] = [0, 0]
    for (let i = 0; i < x.rows; i++) {
      const s = stratum[i] ?? 0
      const value = (from[i] ?? 0) - (sums[s] ?? 0) / (counts[s] ?? 1)
      to[i] = value
      whole += (from[i] ?? 0) ** 2
      left += value * value
    }
    if (left <= TOLERANCE ** 2 * whole) to.fill(0)
  }
  return centred
}

/** Which columns a comparison within strata can tell apart. */
export type ToldWithin = {
  /** Those that stand on their own, going from left to right. */
  readonly kept: readonly number[]
  /** Whether the columns after the first `own` leave fewer of these to be told than stand alone. */
  readonly ownHidden: boolean
}

export function columnsWithin(x: Matrix, own: number, stratum: Int32Array, strata: number): ToldWithin {
  const centred = centredInStrata(x, stratum, strata)
  const { kept, dependent } = independentColumns(centred)
  if (dependent.every(({ of }) => of.length === 0)) return { kept, ownHidden: false }
  const all = Array.from({ length: x.cols }, (_, j) => j)
  const [first, rest] = [all.slice(0, own), all.slice(own)]
  const alone = kept.filter((j) => j < own).length
  const last = independentColumns(selectColumns(centred, [...rest, ...first])).kept
  return { kept, ownHidden: last.filter((at) => at >= rest.length).length < alone }
}

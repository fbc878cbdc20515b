import type { Rows } from "../likelihood/rows.ts"
import { type Matrix, column, zeros } from "../matrix/matrix.ts"
import { findRoot } from "../optimise/findRoot.ts"

/** The design in which the linear combination l'b of the coefficients is one of them, in column `pivot`, the others as they
 *  were: the column with the largest weight in l is divided by it, and its part taken from the others. */
export function contrastAsColumn(x: Matrix, contrast: Float64Array): { x: Matrix; pivot: number } {
  const pivot = contrast.reduce((best, l, j) => (Math.abs(l) > Math.abs(contrast[best] ?? 0) ? j : best), 0)
  const weight = contrast[pivot] ?? 0
  if (contrast.length !== x.cols || weight === 0) {
    throw new RangeError(`A contrast needs a weight for each of ${x.cols} columns, not all 0.`)
  }
  const turned = { ...x, data: x.data.slice() }
  const own = column(x, pivot)
  for (let j = 0; j < x.cols; j++) {
    const share = (contrast[j] ?? 0) / weight
    const to = column(turned, j)
    if (j === pivot) own.forEach((value, i) => (to[i] = value / weight))
    else if (share !== 0) own.forEach((value, i) => (to[i] = (to[i] ?? 0) - share * value))
  }
  return { x: turned, pivot }
}

/** A model's rows with the linear combination l'b of its coefficients held at a value: a column fewer, and the value in the
 *  offset. */
export function holding(rows: Rows, contrast: Float64Array): (value: number) => Rows {
  const { x, pivot } = contrastAsColumn(rows.x, contrast)
  const taken = column(x, pivot)
  const left = withoutColumn(x, pivot)
  return (value) => ({
    ...rows,
    x: left,
    offset: taken.map((own, i) => own * value + (rows.offset?.[i] ?? 0)),
  })
}

/** The matrix less one column. */
export function withoutColumn(x: Matrix, left: number): Matrix {
  const out = zeros(x.rows, x.cols - 1)
  for (let j = 0, at = 0; j < x.cols; j++) if (j !== left) column(out, at++).set(column(x, j))
  return out
}

export type Profile = {
  /** Where the likelihood is greatest, its standard error there, and the greatest log-likelihood. */
  readonly estimate: number
  readonly se: number
  readonly logLik: number
  /** Greatest log-likelihood with the quantity held at a value; NaN where it cannot be had. */
  readonly heldAt: (value: number) => number
}

/** Beyond this on the scale of the quantity an end is called infinite. */
const FARTHEST = 12

/** The values at which 2 (greatest log-likelihood - that with the quantity held) is at most `cut`. Each end is sought on the root
 *  of that loss, which is nearly a straight line: first where a parabola would have it, then outwards by half as much again
 *  until it is passed. An end that does not come within 12 of the estimate is infinite.
 *  Source: Venzon & Moolgavkar (1988) Applied Statistics 37:87-94 (from memory). */
export function profileInterval(profile: Profile, cut: number): { low: number; high: number } {
  return { low: profileEnd(profile, cut, -1), high: profileEnd(profile, cut, 1) }
}

/** One end of it, below (-1) or above (1). */
export function profileEnd({ estimate, se, logLik, heldAt }: Profile, cut: number, side: -1 | 1): number {
  const excess = (value: number): number =>
    Math.sqrt(Math.max(0, 2 * (logLik - heldAt(value)))) - Math.sqrt(cut)
  let [inside, excessInside] = [estimate, -Math.sqrt(cut)]
  for (let reach = Math.sqrt(cut) * se; ; reach *= 1.5) {
    const outside = estimate + side * Math.min(reach, FARTHEST)
    const excessOutside = excess(outside)
    if (Number.isNaN(excessOutside)) return side * Infinity
    if (excessOutside > 0) {
      const root = findRoot(excess, inside, outside, {
        tolerance: 1e-8 * Math.max(1, se),
        fa: excessInside,
        fb: excessOutside,
      })
      // where the model cannot be fitted on the way, what was passed is told: farther out than the end, never nearer
      return Number.isNaN(root) ? outside : root
    }
    if (reach >= FARTHEST) return side * Infinity
    inside = outside
    excessInside = excessOutside
  }
}

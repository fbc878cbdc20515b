import { cholesky, solve } from "../matrix/cholesky.ts"
import { type Matrix, column, dot, zeros } from "../matrix/matrix.ts"

/** The nu >= 0 that makes |C nu + d| smallest, as the residual C nu + d. C has a column an unknown; there may be many more of
 *  them than rows. Active sets: at most as many unknowns as rows are ever free. Source: Lawson & Hanson (1974) Solving Least
 *  Squares Problems, ch. 23 (from memory). */
export function nonNegativeResidual(c: Matrix, d: Float64Array): Float64Array {
  const tolerance = 1e-10 * Math.sqrt(dot(d, d))
  const value = new Map<number, number>()
  const barred = new Set<number>()
  let residual: Float64Array = d.slice()
  for (let round = 0; round < 30 * c.rows + 30; round++) {
    const entering = steepest(c, residual, value, barred, tolerance)
    if (entering < 0) break
    value.set(entering, 0)
    if (!settle(c, d, value)) {
      value.delete(entering)
      barred.add(entering)
      continue
    }
    residual = residualOf(c, d, value)
  }
  return residual
}

/** The unknown at 0 whose growth would shrink the residual fastest; -1 if none does. */
function steepest(
  c: Matrix,
  residual: Float64Array,
  value: ReadonlyMap<number, number>,
  barred: ReadonlySet<number>,
  tolerance: number,
): number {
  let [best, found] = [tolerance, -1]
  for (let j = 0; j < c.cols; j++) {
    if (value.has(j) || barred.has(j)) continue
    const descent = -dot(column(c, j), residual)
    if (descent > best) [best, found] = [descent, j]
  }
  return found
}

/** Moves the free unknowns to their least-squares values, giving up those that would turn negative. False where the columns
 *  depend on each other. */
function settle(c: Matrix, d: Float64Array, value: Map<number, number>): boolean {
  for (;;) {
    const free = [...value.keys()]
    const wanted = leastSquares(c, d, free)
    if (wanted === null) return false
    const negative = free.filter((_, k) => (wanted[k] ?? 0) <= 0)
    if (negative.length === 0) {
      free.forEach((j, k) => value.set(j, wanted[k] ?? 0))
      return true
    }
    let reach = 1
    free.forEach((j, k) => {
      const [from, to] = [value.get(j) ?? 0, wanted[k] ?? 0]
      if (to <= 0) reach = Math.min(reach, from > to ? from / (from - to) : 0)
    })
    free.forEach((j, k) => {
      const from = value.get(j) ?? 0
      const moved = from + reach * ((wanted[k] ?? 0) - from)
      if (moved <= 1e-14 && (wanted[k] ?? 0) <= 0) value.delete(j)
      else value.set(j, moved)
    })
  }
}

function leastSquares(c: Matrix, d: Float64Array, free: readonly number[]): Float64Array | null {
  const gram = zeros(free.length, free.length)
  const right = new Float64Array(free.length)
  free.forEach((j, k) => {
    right[k] = -dot(column(c, j), d)
    free.forEach((i, l) => {
      gram.data[l + free.length * k] = dot(column(c, i), column(c, j))
    })
  })
  const factor = cholesky(gram, 1e-13)
  return factor === null ? null : solve(factor, right)
}

function residualOf(c: Matrix, d: Float64Array, value: ReadonlyMap<number, number>): Float64Array {
  const residual = d.slice()
  for (const [j, nu] of value) {
    const from = column(c, j)
    for (let i = 0; i < residual.length; i++) residual[i] = (residual[i] ?? 0) + nu * (from[i] ?? 0)
  }
  return residual
}

import { type Matrix, column, dot, selectRows, zeros } from "../matrix/matrix.ts"
import type { Family, Rows } from "../likelihood/rows.ts"
import { independentColumns } from "../matrix/rank.ts"
import { positionsWhere } from "../positions.ts"
import { nonNegativeResidual } from "./nonNegativeLeastSquares.ts"

/** Whether it shows at once that nothing is separated: of counts, the rows with events tell all columns apart, so that no direction
 *  leaves all of them as they are. false says nothing. */
export function cannotSeparate({ x, y }: Rows, family: Family): boolean {
  if (family === "gaussian") return true
  if (family !== "poisson" && family !== "negative binomial") return false
  const events = positionsWhere(y.length, (i) => (y[i] ?? 0) > 0)
  return events.length >= x.cols && independentColumns(selectRows(x, events)).dependent.length === 0
}

/** A direction in which coefficients can grow for ever while the likelihood rises, so that no finite ones are best; null where
 *  the data are not separated. That is a d, one value a column of x, with x'd >= 0 in rows whose
 *  likelihood rises for ever with eta (`unbounded` 1), x'd <= 0 in those where it falls for ever (-1), x'd = 0 elsewhere (0),
 *  and strict in some row. By Stiemke's lemma there is none where some strictly positive sum of the signed rows is 0;
 *  with every weight at least 1 that is a non-negative least-squares problem, whose residual is such a d otherwise.
 *  The columns of x must be independent. Sources: Albert & Anderson (1984) Biometrika 71:1-10; Konis (2007), who solves a
 *  linear programme instead (both from memory). */
export function separatingDirection(x: Matrix, unbounded: Int8Array): Float64Array | null {
  const signed = signedRows(x, unbounded)
  const total = new Float64Array(x.cols)
  for (let j = 0; j < signed.cols; j++)
    column(signed, j).forEach((value, k) => {
      total[k] = (total[k] ?? 0) + value
    })
  const residual = nonNegativeResidual(signed, total)
  const length = Math.sqrt(dot(residual, residual))
  if (length <= 1e-7 * Math.max(1, Math.sqrt(dot(total, total)))) return null
  const limit = 1e-6 * residual.reduce((most, value) => Math.max(most, Math.abs(value)), 0)
  return residual.map((value) => (Math.abs(value) > limit ? value : 0))
}

/** A column for each row of x that pulls, turned so that it pulls up; two, both ways, for a row that does not give way. */
function signedRows(x: Matrix, unbounded: Int8Array): Matrix {
  const both = unbounded.reduce((count, side) => count + (side === 0 ? 1 : 0), 0)
  const signed = zeros(x.cols, x.rows + both)
  let at = 0
  for (let i = 0; i < x.rows; i++) {
    const side = unbounded[i] ?? 0
    for (const sign of side === 0 ? [1, -1] : [side]) {
      for (let j = 0; j < x.cols; j++) signed.data[j + x.cols * at] = sign * (x.data[i + x.rows * j] ?? 0)
      at++
    }
  }
  return signed
}

import { cholesky } from "./cholesky.ts"
import { type Matrix, column, dot, selectColumns, selectRows, weightedGram, zeros } from "./matrix.ts"

/** A column that keeps less than this of its length, once the columns before it are taken out, cannot be told from them. */
const TOLERANCE = 1e-7
/** A column that keeps more than this of its squared length in the columns' products is independent beyond what rounding
 *  there, of some 1e-14, could hide. */
const CLEARLY = 1e-10

export type Dependent = {
  column: number
  /** The column is this sum over kept ones, those that matter to it. Empty for a column of zeros. */
  of: { column: number; coefficient: number }[]
}

/** Which columns stand on their own, going from left to right, and of which earlier ones each other column is made.
 *  Where the columns' products show at once that all but zeros do, one looks no closer; else by modified Gram-Schmidt, each column orthogonalised twice. Source: Golub & Van Loan (2013) Matrix Computations, section 5.2
 *  (from memory); the rule is that of R's lm, with its tolerance. */
export function independentColumns(x: Matrix): { kept: number[]; dependent: Dependent[] } {
  const clear = clearlyIndependent(x)
  if (clear !== null) return clear
  const kept: number[] = []
  const dependent: Dependent[] = []
  const basis: Float64Array[] = []
  const triangle: Float64Array[] = []
  for (let j = 0; j < x.cols; j++) {
    const rest = column(x, j).slice()
    const length = Math.sqrt(dot(rest, rest))
    const shares = new Float64Array(basis.length)
    for (let pass = 0; pass < 2; pass++) {
      basis.forEach((direction, k) => {
        const share = dot(direction, rest)
        shares[k] = (shares[k] ?? 0) + share
        for (let i = 0; i < rest.length; i++) rest[i] = (rest[i] ?? 0) - share * (direction[i] ?? 0)
      })
    }
    const left = Math.sqrt(dot(rest, rest))
    if (left > TOLERANCE * length) {
      for (let i = 0; i < rest.length; i++) rest[i] = (rest[i] ?? 0) / left
      kept.push(j)
      basis.push(rest)
      triangle.push(Float64Array.of(...shares, left))
    } else {
      dependent.push({ column: j, of: combination(triangle, shares, kept) })
    }
  }
  return { kept, dependent }
}

/** The answer where all columns but those of zeros stand on their own beyond doubt; null where one has to look closer. */
function clearlyIndependent(x: Matrix): { kept: number[]; dependent: Dependent[] } | null {
  const gram = zeros(x.cols, x.cols)
  weightedGram(x, new Float64Array(x.rows).fill(1), gram)
  const kept: number[] = []
  const dependent: Dependent[] = []
  for (let j = 0; j < x.cols; j++)
    if (gram.data[j * (x.cols + 1)] === 0) dependent.push({ column: j, of: [] })
    else kept.push(j)
  const among = selectRows(selectColumns(gram, kept), Int32Array.from(kept))
  return cholesky(among, CLEARLY) === null ? null : { kept, dependent }
}

/** Solves R c = shares by back substitution; R's column k is triangle[k]. */
function combination(
  triangle: readonly Float64Array[],
  shares: Float64Array,
  kept: readonly number[],
): Dependent["of"] {
  const c = shares.slice()
  for (let k = c.length - 1; k >= 0; k--) {
    c[k] = (c[k] ?? 0) / (triangle[k]?.[k] ?? NaN)
    for (let i = 0; i < k; i++) c[i] = (c[i] ?? 0) - (triangle[k]?.[i] ?? 0) * (c[k] ?? 0)
  }
  const largest = c.reduce((most, value) => Math.max(most, Math.abs(value)), 0)
  return kept.flatMap((column, k) => {
    const coefficient = c[k] ?? 0
    return Math.abs(coefficient) > 1e-6 * largest ? [{ column, coefficient }] : []
  })
}

import { type Matrix, mirrorUpper, zeros } from "./matrix.ts"

/** Lower triangle L of a symmetric positive definite A = L L'. Source: Golub & Van Loan (2013) Matrix Computations, section
 *  4.2 (from memory). */
export type Cholesky = { readonly size: number; readonly lower: Float64Array }

/** Factors a symmetric matrix, whose lower triangle is read. Null where a pivot is below `tolerance` of its diagonal, so that
 *  the matrix is not positive definite as far as rounding lets one see. The triangle is written into `lower`, whose other half
 *  stays as it is. */
export function cholesky(
  a: Matrix,
  tolerance = 1e-12,
  lower = new Float64Array(a.cols * a.cols),
): Cholesky | null {
  const n = a.cols
  for (let j = 0; j < n; j++) {
    const diagonal = a.data[j + n * j] ?? NaN
    let pivot = diagonal
    for (let k = 0; k < j; k++) pivot -= (lower[j + n * k] ?? 0) ** 2
    if (!(pivot > tolerance * diagonal) || !(pivot < Infinity)) return null
    const root = Math.sqrt(pivot)
    lower[j + n * j] = root
    for (let i = j + 1; i < n; i++) {
      let sum = a.data[i + n * j] ?? 0
      for (let k = 0; k < j; k++) sum -= (lower[i + n * k] ?? 0) * (lower[j + n * k] ?? 0)
      lower[i + n * j] = sum / root
    }
  }
  return { size: n, lower }
}

/** Solves A x = b in place. */
export function solveInPlace({ size: n, lower }: Cholesky, b: Float64Array): void {
  for (let i = 0; i < n; i++) {
    let sum = b[i] ?? 0
    for (let k = 0; k < i; k++) sum -= (lower[i + n * k] ?? 0) * (b[k] ?? 0)
    b[i] = sum / (lower[i + n * i] ?? NaN)
  }
  for (let i = n - 1; i >= 0; i--) {
    let sum = b[i] ?? 0
    for (let k = i + 1; k < n; k++) sum -= (lower[k + n * i] ?? 0) * (b[k] ?? 0)
    b[i] = sum / (lower[i + n * i] ?? NaN)
  }
}

export function solve(factor: Cholesky, b: Float64Array): Float64Array {
  const x = b.slice()
  solveInPlace(factor, x)
  return x
}

/** The inverse of A. */
export function inverse(factor: Cholesky): Matrix {
  const n = factor.size
  const inverted = zeros(n, n)
  for (let j = 0; j < n; j++) {
    const unit = inverted.data.subarray(j * n, (j + 1) * n)
    unit[j] = 1
    solveInPlace(factor, unit)
  }
  mirrorUpper(inverted)
  return inverted
}

/** log of the determinant of A. */
export function logDeterminant({ size: n, lower }: Cholesky): number {
  let sum = 0
  for (let j = 0; j < n; j++) sum += Math.log(lower[j + n * j] ?? NaN)
  return 2 * sum
}

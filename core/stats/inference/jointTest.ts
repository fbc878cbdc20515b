import { fUpper } from "../distributions/fDistribution.ts"
import { cholesky, solve } from "../matrix/cholesky.ts"
import { type Matrix, column, dot, zeros } from "../matrix/matrix.ts"
import type { Changes } from "./deletionSteps.ts"

export type JointTest = {
  readonly f: number
  readonly columns: number
  readonly df: number
  readonly p: number
}

/** Test of several quantities all being 0 from their values and a covariance estimated on `df` degrees of freedom: Hotelling's
 *  T^2 = v'C^-1 v, of which (df - q + 1)/(q df) is F on q and df - q + 1; with one quantity, the square of t. Null where the
 *  covariance is singular or no degree of freedom is left. Source: Hotelling (1931) Annals of Mathematical Statistics
 *  2:360-378 (from memory). */
export function jointTest(values: Float64Array, covariance: Matrix, df: number): JointTest | null {
  const q = values.length
  const rest = df - q + 1
  const factor = q === 0 || rest < 1 ? null : cholesky(covariance, 1e-10)
  if (factor === null) return null
  const f = (dot(values, solve(factor, values)) * rest) / (q * df)
  return Number.isFinite(f) ? Object.freeze({ f, columns: q, df: rest, p: fUpper(f, q, rest) }) : null
}

/** Delete-one-cluster jackknife covariance of contrasts from what leaving out each of so many clusters changes: as
 *  jackknifedVariance. */
export function jackknifedCovariance(
  contrasts: readonly Float64Array[],
  changes: Changes,
  clusters: number,
): Matrix {
  const q = contrasts.length
  const moved = contrasts.map((contrast) => {
    const sums = new Float64Array(changes.rows)
    contrast.forEach((part, j) => {
      if (part !== 0) column(changes, j).forEach((change, g) => (sums[g] = (sums[g] ?? 0) + part * change))
    })
    return sums
  })
  const covariance = zeros(q, q)
  moved.forEach((a, i) =>
    moved.forEach((b, j) => {
      covariance.data[i + q * j] = ((clusters - 1) / clusters) * dot(a, b)
    }),
  )
  return covariance
}

import { cholesky, solveInPlace } from "../matrix/cholesky.ts"
import { type Matrix, zeros } from "../matrix/matrix.ts"
import { type Standardised, undoInPlace } from "../matrix/standardise.ts"

/** How the coefficients change when a cluster is left out: a matrix with a row a cluster and a column a coefficient. */
export type Changes = Matrix

/** -(A - A_g)^-1 s_g for each group g, in the columns as they were: s_g its row of `scores`, A_g the p x p block of `informations`
 *  from g p^2 (its lower triangle is read), A their sum. Null where the rest of the groups cannot tell the coefficients apart. A
 *  group without a score changes nothing. */
export function deletionSteps(
  scores: Matrix,
  informations: Float64Array,
  standardised: Standardised,
): Changes | null {
  const { rows: groups, cols: p } = scores
  const total = new Float64Array(p * p)
  for (let from = 0; from < informations.length; from += p * p)
    for (let j = 0; j < p; j++)
      for (let at = j * (p + 1); at < (j + 1) * p; at++)
        total[at] = (total[at] ?? 0) + (informations[from + at] ?? 0)
  const changes = zeros(groups, p)
  const left = zeros(p, p)
  const lower = new Float64Array(p * p)
  const step = new Float64Array(p)
  for (let g = 0; g < groups; g++) {
    let any = false
    for (let j = 0; j < p; j++) {
      const score = scores.data[g + groups * j] ?? 0
      any ||= score !== 0
      step[j] = -score
    }
    if (!any) continue
    const own = g * p * p
    for (let j = 0; j < p; j++)
      for (let at = j * (p + 1); at < (j + 1) * p; at++)
        left.data[at] = (total[at] ?? 0) - (informations[own + at] ?? 0)
    const factor = cholesky(left, 1e-10, lower)
    if (factor === null) return null
    solveInPlace(factor, step)
    undoInPlace(standardised, step)
    for (let j = 0; j < p; j++) changes.data[g + groups * j] = step[j] ?? 0
  }
  return changes
}

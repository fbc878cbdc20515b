import { type ClusteredRows, clusterRows } from "../likelihood/rows.ts"
import { column, zeros } from "../matrix/matrix.ts"
import { type MixedFit, fitMixed } from "../mixed/fitMixed.ts"
import { coefficientPieces } from "../mixed/coefficientPieces.ts"
import { marginalAt } from "../mixed/marginalOfFit.ts"
import { type Changes, deletionSteps } from "./deletionSteps.ts"

const NODES = 15

/** One-step change of the coefficients on leaving out each cluster g: -(J - J_g)^-1 u_g, with u_g the cluster's score, J_g its
 *  observed information, J their sum; sd and dispersion stay. Null where what is left cannot tell the coefficients apart.
 *  Sources: Pregibon (1981) Annals of Statistics 9:705-724; Preisser & Qaqish (1996) Biometrika 83:551-562 (from memory). */
export function oneStepChanges(rows: ClusteredRows, fit: MixedFit): Changes | null {
  const { marginal, phi, prepared } = marginalAt(rows, fit, NODES)
  marginal.findModes(phi)
  const { scores, informations } = coefficientPieces(marginal, phi, NODES)
  return deletionSteps(scores, informations, prepared.standardised)
}

/** The same by fitting the model again without each cluster, from the whole fit; `clusters` are those to be left out, all
 *  unless said otherwise. Null where one of them cannot be fitted, as when a column is constant without that cluster. */
export function refittedChanges(
  rows: ClusteredRows,
  fit: MixedFit,
  clusters: readonly number[] = Array.from({ length: rows.clusters }, (_, g) => g),
): Changes | null {
  const p = rows.x.cols
  const changes = zeros(rows.clusters, p)
  for (const g of clusters) {
    const left = clusterRows(rows, (own) => own !== g)
    if (left.y.length === rows.y.length) continue
    const again = fitMixed(left, fit.family, { nodes: fit.nodes, start: fit, covariance: false })
    if (again.kind === "separated" || again.kind === "not fitted") return null
    for (let j = 0; j < p; j++)
      changes.data[g + rows.clusters * j] = (again.coefficients[j] ?? 0) - (fit.coefficients[j] ?? 0)
  }
  return changes
}

/** The changes with those of some clusters replaced by what fitting again without each gave; null where one of them cannot be left
 *  out. `known` keeps what was fitted. */
export function withRefits(
  stepped: Changes | null,
  clusters: readonly number[],
  known: Map<number, Float64Array | null>,
  without: (cluster: number) => Float64Array | null,
): Changes | null {
  if (stepped === null) return null
  const changes = { ...stepped, data: stepped.data.slice() }
  for (const g of clusters) {
    const own = known.get(g) ?? without(g)
    known.set(g, own)
    if (own === null) return null
    own.forEach((change, j) => {
      changes.data[g + changes.rows * j] = change
    })
  }
  return changes
}

/** Delete-one-cluster jackknife variance of l'b about the estimate from the changes: (G - 1)/G times their sum of squares, over
 *  G clusters with rows. */
export function jackknifedVariance(contrast: Float64Array, changes: Changes, clusters: number): number {
  let squares = 0
  for (let g = 0; g < changes.rows; g++) {
    let change = 0
    for (let j = 0; j < changes.cols; j++)
      change += (contrast[j] ?? 0) * (changes.data[g + changes.rows * j] ?? 0)
    squares += change * change
  }
  return ((clusters - 1) / clusters) * squares
}

/** The cluster without which l'b moves most, and by how much; null where none moves it. */
export function mostMoving(
  contrast: Float64Array,
  changes: Changes,
): { cluster: number; change: number } | null {
  let worst: { cluster: number; change: number } | null = null
  for (let g = 0; g < changes.rows; g++) {
    let change = 0
    for (let j = 0; j < changes.cols; j++) change += (contrast[j] ?? 0) * (column(changes, j)[g] ?? 0)
    if (Math.abs(change) > Math.abs(worst?.change ?? 0)) worst = { cluster: g, change }
  }
  return worst
}

import {
  type ClusteredRows,
  type Family,
  type Rows,
  likelihoodOf,
  requireRows,
  rowsAt,
} from "../likelihood/rows.ts"
import { type Standardised, standardise } from "../matrix/standardise.ts"
import type { SortedRows } from "./marginalLikelihood.ts"

/** The rows in the order of their clusters (ties as they came), and where each cluster begins. Throws a RangeError where a
 *  cluster number is out of range or there is not one a row. */
export function sortByCluster(rows: ClusteredRows): { rows: Rows; start: Int32Array; order: Int32Array } {
  const { cluster, clusters } = rows
  if (cluster.length !== rows.y.length) {
    throw new RangeError(`There are ${cluster.length} cluster numbers for ${rows.y.length} rows.`)
  }
  const start = new Int32Array(clusters + 1)
  for (const g of cluster) {
    if (!(g >= 0 && g < clusters)) {
      throw new RangeError(`A row's cluster must lie from 0 to ${clusters - 1}; it was given ${g}.`)
    }
    start[g + 1] = (start[g + 1] ?? 0) + 1
  }
  for (let g = 0; g < clusters; g++) start[g + 1] = (start[g + 1] ?? 0) + (start[g] ?? 0)
  const next = start.slice()
  const order = new Int32Array(cluster.length)
  cluster.forEach((g, i) => {
    const at = next[g] ?? 0
    order[at] = i
    next[g] = at + 1
  })
  return { rows: rowsAt(rows, order), start, order }
}

/** Rows made ready for the marginal likelihood: sorted, their columns standardised, their likelihood made. */
export type Prepared = { readonly sorted: SortedRows; readonly standardised: Standardised }

export function prepare(rows: ClusteredRows, family: Family): Prepared {
  requireRows(rows)
  const { rows: plain, start } = sortByCluster(rows)
  const likelihood = likelihoodOf(family, plain)
  const standardised = standardise(plain.x, plain.x)
  return {
    sorted: { x: standardised.x, likelihood, offset: plain.offset, start },
    standardised,
  }
}

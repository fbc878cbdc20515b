import { type Matrix, selectRows } from "../matrix/matrix.ts"
import { numbersAt, positionsWhere, valuesAt } from "../positions.ts"
import { BinomialCloglog } from "./binomialCloglog.ts"
import { BinomialLogit } from "./binomialLogit.ts"
import { GaussianIdentity } from "./gaussianIdentity.ts"
import type { Likelihood } from "./likelihood.ts"
import { NegativeBinomialLog } from "./negativeBinomialLog.ts"
import { PoissonLog } from "./poissonLog.ts"

export type Family = "gaussian" | "poisson" | "negative binomial" | "binomial logit" | "binomial cloglog"

/** What a model is fitted to: a design with a row a value of y. `offset` is added to the linear predictor. `weights` say how
 *  often a row counts (for a binomial: how many trials it has, 1 if left out). */
export type Rows = {
  readonly x: Matrix
  readonly y: Float64Array
  readonly offset?: Float64Array | undefined
  readonly weights?: Float64Array | undefined
}

/** Rows that come in clusters, numbered from 0 to clusters - 1. A cluster may have no row. */
export type ClusteredRows = Rows & { readonly cluster: Int32Array; readonly clusters: number }

/** The rows' likelihood. Throws a RangeError where y, weights or offset do not fit the family or each other. */
export function likelihoodOf(family: Family, rows: Rows): Likelihood {
  requireRows(rows)
  const { y, weights } = rows
  switch (family) {
    case "gaussian":
      return new GaussianIdentity(y, weights)
    case "poisson":
      return new PoissonLog(y, weights)
    case "negative binomial":
      return new NegativeBinomialLog(y, weights)
    case "binomial logit":
      return new BinomialLogit(y, weights)
    case "binomial cloglog":
      return new BinomialCloglog(y, weights)
  }
}

/** Throws a RangeError unless there is a row, a value and an offset for each, and only finite numbers in design and offset. */
export function requireRows({ x, y, offset, weights }: Rows): void {
  if (y.length !== x.rows) throw new RangeError(`There are ${y.length} values for ${x.rows} rows.`)
  if (x.rows === 0) throw new RangeError("A model needs at least one row.")
  requireFinite("The design", x.data)
  if (weights !== undefined && weights.length !== x.rows)
    throw new RangeError(`There are ${weights.length} weights for ${x.rows} rows.`)
  if (offset === undefined) return
  if (offset.length !== x.rows) throw new RangeError(`There are ${offset.length} offsets for ${x.rows} rows.`)
  requireFinite("An offset", offset)
}

function requireFinite(what: string, values: Float64Array): void {
  for (let i = 0; i < values.length; i++) {
    const value = values[i] ?? NaN
    if (!Number.isFinite(value)) throw new RangeError(`${what} must hold finite numbers; it holds ${value}.`)
  }
}

/** These rows only, in this order. */
export function rowsAt({ x, y, offset, weights }: Rows, at: Int32Array): Rows {
  return {
    x: selectRows(x, at),
    y: valuesAt(y, at),
    offset: offset === undefined ? undefined : valuesAt(offset, at),
    weights: weights === undefined ? undefined : valuesAt(weights, at),
  }
}

/** These rows only, in this order; clusters keep their numbers. */
export function clusteredRowsAt(rows: ClusteredRows, at: Int32Array): ClusteredRows {
  return {
    ...rowsAt(rows, at),
    cluster: numbersAt(rows.cluster, at),
    clusters: rows.clusters,
  }
}

/** The rows of some clusters; clusters keep their numbers. */
export function clusterRows(rows: ClusteredRows, wanted: (cluster: number) => boolean): ClusteredRows {
  return clusteredRowsAt(
    rows,
    positionsWhere(rows.cluster.length, (i) => wanted(rows.cluster[i] ?? -1)),
  )
}

import { NO_EVENT_BOUND, tCritical } from "../confidence.ts"
import { holding, withoutColumn } from "../inference/profileInterval.ts"
import { oneSidedBound } from "../inference/oneSidedBound.ts"
import { type ClusteredRows, clusteredRowsAt } from "../likelihood/rows.ts"
import { column, selectColumns } from "../matrix/matrix.ts"
import { positionsWhere } from "../positions.ts"
import { conditionalPoisson } from "./conditionalPoisson.ts"
import { columnsWithin } from "./withinColumns.ts"

/** What twice the conditional log-likelihood may lose at the end of a 95% interval where a level had no event: t^2, but at least
 *  what a lone count of 0 deserves, 2 log(2/.05), as many times as events clump (`deff`, 1 where each comes alone). */
export function emptyWithinCut(df: number, deff: number): number {
  return Math.max(tCritical(df) ** 2, 2 * NO_EVENT_BOUND * deff)
}

/** The largest coefficient, 97.5% one-sided, of a level without a single event in the strata (the rows' clusters), by the
 *  conditional Poisson likelihood (see conditionalPoisson): where it has fallen by half the cut from that of the other rows, which
 *  is its supremum, everything else fitted again. `level` is the level's column, 1 in its rows and 0 in others. Infinity where
 *  nothing bounds it, null where the other rows have no finite fit.
 *  Source: the binomial case is Clopper & Pearson's (1934) upper limit at 0; the cut is ours. */
export function emptyWithinBound(rows: ClusteredRows, level: number, cut: number): number | null {
  const own = column(rows.x, level)
  const others = clusteredRowsAt(
    { ...rows, x: withoutColumn(rows.x, level) },
    positionsWhere(own.length, (i) => own[i] === 0),
  )
  const supremum = conditionalLogLik(others)
  if (Number.isNaN(supremum)) return null
  const held = holding(
    rows,
    Float64Array.from({ length: rows.x.cols }, (_, j) => (j === level ? 1 : 0)),
  )
  return oneSidedBound((value) => 2 * (supremum - conditionalLogLik({ ...rows, ...held(value) })) - cut)
}

/** The greatest conditional log-likelihood; columns that no comparison within strata sees are left out. NaN where there is none. */
function conditionalLogLik(rows: ClusteredRows): number {
  const { kept } = columnsWithin(rows.x, 0, rows.cluster, rows.clusters)
  const fit = conditionalPoisson({ ...rows, x: selectColumns(rows.x, kept) })
  return fit.kind === "fit" ? fit.logLik : NaN
}

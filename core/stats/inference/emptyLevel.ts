import { NO_EVENT_BOUND, tCritical } from "../confidence.ts"
import { type ClusteredRows, type Family, clusteredRowsAt, clusterRows } from "../likelihood/rows.ts"
import { column, quadraticForm, selectBlock } from "../matrix/matrix.ts"
import { type MixedFit, fitMixed } from "../mixed/fitMixed.ts"
import { marginalLogLik } from "../mixed/marginalOfFit.ts"
import { positionsWhere } from "../positions.ts"
import { oneSidedBound } from "./oneSidedBound.ts"
import { holding, withoutColumn } from "./profileInterval.ts"

/** What twice the log-likelihood may lose at the end of a 95% interval on df degrees of freedom where a level had no event:
 *  t^2, but at least what a lone Poisson count of 0 deserves, whose likelihood ratio is its probability: 2 log(2/.05). */
export function emptyLevelCut(df: number): number {
  return Math.max(tCritical(df) ** 2, 2 * NO_EVENT_BOUND)
}

/** The largest coefficient, 97.5% one-sided, of a level without a single event. Its best value is minus infinity, where the
 *  likelihood is that of the other rows; the bound is where the likelihood, everything else fitted again, has fallen by half
 *  the cut. `level` is the level's column, 1 in its rows and 0 in others. Null where a model cannot be fitted.
 *  The cut is derived above; the profile as in profileInterval. */
export function emptyLevelBound(
  rows: ClusteredRows,
  level: number,
  family: Family,
  { df, nodes }: { df: number; nodes: number },
): { bound: number; rest: MixedFit } | null {
  const own = column(rows.x, level)
  const others = positionsWhere(own.length, (i) => own[i] === 0)
  const rest = fitMixed(clusteredRowsAt({ ...rows, x: withoutColumn(rows.x, level) }, others), family, {
    nodes,
  })
  if (rest.kind === "separated" || rest.kind === "not fitted") return null
  const held = holding(
    rows,
    Float64Array.from({ length: rows.x.cols }, (_, j) => (j === level ? 1 : 0)),
  )
  const cut = emptyLevelCut(df)
  const excess = (value: number): number => {
    const fit = fitMixed({ ...rows, ...held(value) }, family, { nodes, start: rest, covariance: false })
    return fit.kind === "separated" || fit.kind === "not fitted" ? NaN : 2 * (rest.logLik - fit.logLik) - cut
  }
  const bound = oneSidedBound(excess)
  return bound === null ? null : { bound, rest }
}

/**
 * The same from a fit of the other rows, for data too many to fit again and again: only the clusters that hold the level are looked
 * at, with the other parameters where they are. What these may be off is then added in full: t(df) standard errors of the
 * others' linear predictor at the mean of the level's rows, so that the bound errs wide. Null where nothing bounds it.
 * `rest`'s columns are those of `rows` without the level's; the bound is over the level in its column `over`, or the reference
 * where that is -1. Source: ours.
 */
export function emptyLevelBoundBeside(
  rows: ClusteredRows,
  level: number,
  over: number,
  rest: MixedFit,
  { df, nodes }: { df: number; nodes: number },
): number | null {
  const own = column(rows.x, level)
  const at = positionsWhere(own.length, (i) => own[i] === 1)
  const holding = new Set(Array.from(at, (i) => rows.cluster[i] ?? -1))
  const near = clusterRows(rows, (g) => holding.has(g))
  const inLevel = column(near.x, level)
  const without = clusteredRowsAt(
    { ...near, x: withoutColumn(near.x, level) },
    positionsWhere(inLevel.length, (i) => inLevel[i] === 0),
  )
  const apart = without.y.length === 0 ? 0 : marginalLogLik(without, rest, nodes)
  const withLevel = (value: number) =>
    Float64Array.from({ length: rows.x.cols }, (_, j) =>
      j === level ? value : (rest.coefficients[j < level ? j : j - 1] ?? 0),
    )
  const cut = emptyLevelCut(df)
  const excess = (value: number): number =>
    2 * (apart - marginalLogLik(near, { ...rest, coefficients: withLevel(value) }, nodes)) - cut
  const bound = oneSidedBound(excess)
  if (bound === null || bound === Infinity || rest.covariance === null) return null
  const others = withoutColumn(rows.x, level)
  const mean = Float64Array.from({ length: others.cols }, (_, j) => {
    if (j === over) return 1
    const values = column(others, j)
    return at.reduce((sum, i) => sum + (values[i] ?? 0), 0) / at.length
  })
  const reach = tCritical(df) * Math.sqrt(quadraticForm(mean, selectBlock(rest.covariance, others.cols)))
  return bound - (over < 0 ? 0 : (rest.coefficients[over] ?? 0)) + reach
}

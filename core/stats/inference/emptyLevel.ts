import { NO_EVENT_BOUND, tCritical } from "../confidence.ts"
import { type ClusteredRows, type Family, clusteredRowsAt } from "../likelihood/rows.ts"
import { column } from "../matrix/matrix.ts"
import { type MixedFit, fitMixed } from "../mixed/fitMixed.ts"
import { findRoot } from "../optimise/findRoot.ts"
import { positionsWhere } from "../positions.ts"
import { holding, withoutColumn } from "./profileInterval.ts"

/** What twice the log-likelihood may lose at the end of a 95% interval on df degrees of freedom where a level had no event:
 *  t^2, but at least what a lone Poisson count of 0 deserves, whose likelihood ratio is its probability: 2 log(2/.05). */
export function emptyLevelCut(df: number): number {
  return Math.max(tCritical(df) ** 2, 2 * NO_EVENT_BOUND)
}

/** Farther out than this the bound is called infinite. */
const FARTHEST = 12

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
  let [inside, outside] = [0, 0]
  let [low, high] = [excess(0), NaN]
  for (let reach = 1; low > 0 && reach <= FARTHEST; reach *= 1.5) {
    ;[outside, high] = [inside, low]
    inside = -reach
    low = excess(inside)
  }
  for (let reach = 1; Number.isNaN(high) && reach <= FARTHEST; reach *= 1.5) {
    outside = reach
    const value = excess(outside)
    if (value > 0) high = value
    else [inside, low] = [outside, value]
  }
  if (Number.isNaN(low + high)) return Number.isNaN(low) ? null : { bound: Infinity, rest }
  const root = findRoot(excess, inside, outside, { tolerance: 1e-8, fa: low, fb: high })
  return { bound: Number.isNaN(root) ? outside : root, rest }
}

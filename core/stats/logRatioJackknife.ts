import { tCritical } from "./confidence.ts"
import { jackknifeVariance } from "./jackknife.ts"
import { sum } from "./sum.ts"
import { requireTotals } from "./ratioOfSums.ts"
import { tTwoSidedP } from "./distributions/studentT.ts"

/** Two levels' totals over the clusters that hold one or both: numerators ya, yb and denominators ha, hb, index for index. */
export type TwoLevels = { ya: Float64Array; ha: Float64Array; yb: Float64Array; hb: Float64Array }

/** A spread of the log ratio below this is rounding, not data. */
const NO_SPREAD = 1e-12

/** 95% interval and two-sided p of a ratio from the log ratio and its leave-one-cluster-out values: the jackknife standard
 *  error and t on clusters - 1. Null where it says nothing: fewer than two clusters, a value that is not finite, or no
 *  spread at all, which a few clusters can show by accident and which is not certainty. */
export function logRatioInterval(
  logRatio: number,
  leaveOneOut: Float64Array,
): { low: number; high: number; p: number; df: number } | null {
  if (leaveOneOut.length < 2 || !Number.isFinite(logRatio) || !leaveOneOut.every(Number.isFinite)) return null
  const se = Math.sqrt(jackknifeVariance(leaveOneOut))
  if (se < NO_SPREAD) return null
  const df = leaveOneOut.length - 1
  const reach = tCritical(df) * se
  return {
    low: Math.exp(logRatio - reach),
    high: Math.exp(logRatio + reach),
    p: tTwoSidedP(logRatio / se, df),
    df,
  }
}

export type JackknifeRatio = {
  /** null where there is none: 0/0, or a level without denominator. */
  ratio: number | null
  /** null where the jackknife says nothing. */
  low: number | null
  high: number | null
  p: number | null
  clusters: number
  df: number | null
}

/** The ratio with what logRatioInterval finds for it, for quantities without a count to fall back on. */
export function jackknifeRatio(logRatio: number, leaveOneOut: Float64Array): JackknifeRatio {
  const ratio = Number.isNaN(logRatio) ? null : Math.exp(logRatio)
  const interval = logRatioInterval(logRatio, leaveOneOut)
  const clusters = leaveOneOut.length
  if (interval === null) return { ratio, low: null, high: null, p: null, clusters, df: null }
  return { ratio, ...interval, clusters }
}

/** The log of (sum ya / sum ha) / (sum yb / sum hb) with each cluster left out in turn; not finite where that leaves a level
 *  without numerator or denominator. */
export function leaveOneOutLogRatios({ ya, ha, yb, hb }: TwoLevels): Float64Array {
  const [sumYa, sumHa, sumYb, sumHb] = [sum(ya), sum(ha), sum(yb), sum(hb)]
  return ya.map((y, g) => {
    const a = (sumYa - y) / (sumHa - (ha[g] ?? 0))
    const b = (sumYb - (yb[g] ?? 0)) / (sumHb - (hb[g] ?? 0))
    return Math.log(a) - Math.log(b)
  })
}

/** Keeps the clusters in which either level has a denominator. */
export function clustersOfEither({ ya, ha, yb, hb }: TwoLevels): TwoLevels {
  requireTotals(ya, ha)
  requireTotals(yb, hb)
  requireTotals(ha, hb)
  const held = (_: number, g: number): boolean => (ha[g] ?? 0) > 0 || (hb[g] ?? 0) > 0
  return { ya: ya.filter(held), ha: ha.filter(held), yb: yb.filter(held), hb: hb.filter(held) }
}

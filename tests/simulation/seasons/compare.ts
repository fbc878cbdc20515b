import { clusterRatio } from "../../../core/stats/clusterRatio.ts"
import { designEffect } from "../../../core/stats/clusterRate.ts"
import { ContrastedFit, LEAST_DF, adjustedContrast } from "../../../core/stats/inference/adjustedContrast.ts"
import { clusterLevelColumns } from "../../../core/stats/inference/clusterLevel.ts"
import { emptyLevelBound } from "../../../core/stats/inference/emptyLevel.ts"
import type { ClusteredRows } from "../../../core/stats/likelihood/rows.ts"
import { fromColumns } from "../../../core/stats/matrix/matrix.ts"
import { fitMixed } from "../../../core/stats/mixed/fitMixed.ts"
import { clustersHolding } from "../../../core/stats/strata/clustersHolding.ts"
import { conditionalPoisson } from "../../../core/stats/strata/conditionalPoisson.ts"
import { withinContrast } from "../../../core/stats/strata/withinContrast.ts"
import { type Drawn, LEVELS } from "./season.ts"

export const BASES = ["raw", "adjusted", "same trip"] as const
export type Basis = (typeof BASES)[number]

/** log ratio of level a over level b with its 95% ends. */
export type Compared = { low: number; high: number }

export const PAIRS: readonly (readonly [number, number])[] = [
  [0, 1],
  [0, 2],
  [1, 2],
]

/** The three contrasts of a made-up season on each basis, as the product reckons them; null where a basis has no answer. */
export function compareSeason(drawn: Drawn): Record<Basis, (Compared | null)[]> {
  return {
    raw: PAIRS.map(([a, b]) => raw(drawn, a, b)),
    adjusted: adjusted(drawn),
    "same trip": sameTrip(drawn),
  }
}

function raw({ level, trip, trips, events, hours }: Drawn, a: number, b: number): Compared | null {
  const totals = (values: Float64Array, wanted: number | null): Float64Array => {
    const sums = new Float64Array(trips)
    values.forEach((value, i) => {
      const g = trip[i] ?? 0
      if (wanted === null || level[i] === wanted) sums[g] = (sums[g] ?? 0) + value
    })
    return sums
  }
  const levels = {
    ya: totals(events, a),
    ha: totals(hours, a),
    yb: totals(events, b),
    hb: totals(hours, b),
  }
  const { low, high } = clusterRatio(levels, designEffect(totals(events, null), totals(hours, null)))
  return low === null || high === null ? null : { low: Math.log(low), high: Math.log(high) }
}

export function indicators({ level }: Drawn, levels: readonly number[]): Float64Array[] {
  return levels.map((wanted) => Float64Array.from(level, (own) => (own === wanted ? 1 : 0)))
}

export function rowsOf(drawn: Drawn, columns: Float64Array[]): ClusteredRows {
  return {
    x: fromColumns(columns, drawn.level.length),
    y: drawn.events,
    offset: drawn.hours.map(Math.log),
    cluster: drawn.trip,
    clusters: drawn.trips,
  }
}

type Tally = { events: number; clusters: number[] }

export function tallies({ level, trip, events }: Drawn): Tally[] {
  return Array.from({ length: LEVELS }, (_, wanted) => {
    const holding = new Set<number>()
    let sum = 0
    events.forEach((count, i) => {
      if (level[i] !== wanted || count === 0) return
      sum += count
      holding.add(trip[i] ?? 0)
    })
    return { events: sum, clusters: [...holding] }
  })
}

/** A level without events has no coefficient: it is left out of the fit of the others and bounded by itself. */
function adjusted(drawn: Drawn): (Compared | null)[] {
  const told = tallies(drawn)
  const present = told.flatMap(({ events }, at) => (events > 0 ? [at] : []))
  const [reference, ...others] = present
  if (reference === undefined) return PAIRS.map(() => null)
  const kept = drawn.level.map((own, i) => (present.includes(own) ? i : -1)).filter((i) => i >= 0)
  const part = rowsAtOf(drawn, kept)
  const ones = new Float64Array(kept.length).fill(1)
  const rows = rowsOf(part, [ones, ...indicators(part, others)])
  const df = rows.clusters - clusterLevelColumns(rows.x, rows.cluster, rows.clusters).length
  const fit = fitMixed(rows, "negative binomial")
  if (df < LEAST_DF || fit.kind === "separated" || fit.kind === "not fitted") return PAIRS.map(() => null)
  const contrasted = new ContrastedFit(rows, fit, df)
  return PAIRS.map(([a, b]) => {
    const [first, second] = [told[a], told[b]]
    if (first === undefined || second === undefined) return null
    if (first.events === 0 || second.events === 0) return againstNone(drawn, a, b, told, df)
    const contrast = Float64Array.of(0, ...others.map((other) => (other === a ? 1 : other === b ? -1 : 0)))
    return adjustedContrast(contrasted, contrast, [first, second])
  })
}

function againstNone(
  drawn: Drawn,
  a: number,
  b: number,
  told: readonly Tally[],
  df: number,
): Compared | null {
  const empty = told[a]?.events === 0 ? a : b
  const other = empty === a ? b : a
  if (told[other]?.events === 0) return { low: -Infinity, high: Infinity }
  const levels = [0, 1, 2].filter(
    (level) => level !== other && (level === empty || (told[level]?.events ?? 0) > 0),
  )
  const kept = drawn.level
    .map((own, i) => (own === other || levels.includes(own) ? i : -1))
    .filter((i) => i >= 0)
  const part = rowsAtOf(drawn, kept)
  const rows = rowsOf(part, [new Float64Array(kept.length).fill(1), ...indicators(part, levels)])
  const bound = emptyLevelBound(rows, 1 + levels.indexOf(empty), "negative binomial", { df, nodes: 15 })
  if (bound === null) return null
  return empty === a ? { low: -Infinity, high: bound.bound } : { low: -bound.bound, high: Infinity }
}

function rowsAtOf(drawn: Drawn, kept: Int32Array): Drawn {
  return {
    level: kept.map((i) => drawn.level[i] ?? 0),
    trip: kept.map((i) => drawn.trip[i] ?? 0),
    trips: drawn.trips,
    events: Float64Array.from(kept, (i) => drawn.events[i] ?? 0),
    hours: Float64Array.from(kept, (i) => drawn.hours[i] ?? 0),
  }
}

function sameTrip(drawn: Drawn): (Compared | null)[] {
  const rows = rowsOf(drawn, indicators(drawn, [1, 2]))
  const fit = conditionalPoisson(rows)
  if (fit.kind !== "fit") return PAIRS.map(() => null)
  const holding = clustersHolding({
    level: drawn.level,
    y: drawn.events,
    stratum: drawn.trip,
    cluster: drawn.trip,
  })
  return PAIRS.map(([a, b]) => {
    const contrast = Float64Array.from([1, 2], (level) => (level === a ? 1 : level === b ? -1 : 0))
    return withinContrast(
      rows,
      fit,
      contrast,
      { a, b, holding },
      { cluster: drawn.trip, clusters: drawn.trips },
    )
  })
}

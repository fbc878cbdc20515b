import { type Block, codeBlock } from "../../stats/design/block.ts"
import type { Changes } from "../../stats/inference/deletionSteps.ts"
import type { ClusteredRows } from "../../stats/likelihood/rows.ts"
import { fromColumns, type Matrix, multiply, selectColumns } from "../../stats/matrix/matrix.ts"
import { numbersAt, positionsWhere } from "../../stats/positions.ts"
import { clustersHolding, type ClustersHolding } from "../../stats/strata/clustersHolding.ts"
import {
  conditionalChanges,
  conditionalPoisson,
  type ConditionalFit,
} from "../../stats/strata/conditionalPoisson.ts"
import { columnsWithin, type ToldWithin } from "../../stats/strata/withinColumns.ts"
import { emptyWithinBound, emptyWithinCut } from "../../stats/strata/emptyWithin.ts"
import { numbered } from "../../stats/numbered.ts"
import { listed } from "../../../shared/figures.ts"
import { namesHeld } from "../held/chooseHeld.ts"
import type { Covariate } from "../held/covariate.ts"
import type { Prepared } from "../prepare.ts"
import { comparedName } from "./comparedLevels.ts"
import { blocksOf, covariatesAt, valuesOf } from "./fitModel.ts"
import { pickRows, type ModelRows } from "./modelRows.ts"

export type Stratum = "trip" | "stop"

export const nowhere: Record<Stratum, string> = {
  trip: "No trip holds both with a fish to share between them",
  stop: "No stop holds both with a fish to share between them",
}

/** Levels compared within strata by one fit. */
export type Fitted = {
  readonly rows: ClusteredRows
  readonly fit: ConditionalFit
  readonly labels: readonly string[]
  /** Column of each label, -1 for the reference. */
  readonly columns: readonly number[]
  readonly holding: ClustersHolding
  readonly cluster: Int32Array
  readonly clusters: number
  readonly level: Int32Array
  /** Position in the facts of each cluster's trip. */
  readonly trips: readonly number[]
  /** What leaving out each cluster changes, once it was wanted. */
  changes?: Changes | null
}

/** What leaving out each cluster changes in a fit's coefficients, reckoned when first asked for. */
export function changesOf(fitted: Fitted): Changes | null {
  const { rows, fit, cluster, clusters } = fitted
  if (fitted.changes === undefined)
    fitted.changes = conditionalChanges(rows, fit.coefficients, cluster, clusters)
  return fitted.changes
}

/** Where rows lie: what is compared within what, and with what held alike. */
export type Place = {
  readonly prepared: Prepared
  readonly covariates: readonly Covariate[]
  readonly stratum: Stratum
}

export const stratumOf = ({ facts }: Prepared, stint: number, stratum: Stratum): number =>
  (stratum === "trip" ? facts.trip[stint] : facts.stop[stint]) ?? -1

/** Levels of the compared factor and what is held alike, as columns within strata. */
export type CodedWithin = {
  readonly labels: readonly string[]
  /** Of every stint of the facts: its level from 0, NaN others. */
  readonly codes: Float64Array
  readonly rows: ModelRows
  readonly x: Matrix
  readonly names: readonly string[]
  /** Columns of the compared levels, which come first. */
  readonly own: number
  readonly strata: Int32Array
  readonly count: number
  readonly told: ToldWithin
}

/** Codes the rows at these levels (of `codes`, as in CodedWithin; others are left out). */
export function codeWithin(
  { prepared, covariates, stratum }: Place,
  all: ModelRows,
  codes: Float64Array,
  labels: readonly string[],
): CodedWithin {
  const rows = atLevels(all, codes)
  const block: Block = { kind: "categorical", covariate: comparedName, levels: labels, reference: 0 }
  const at = covariatesAt(new Map([...valuesOf(covariates), [comparedName, codes]]), rows)
  const coded = [block, ...blocksOf(covariates)].map((one) => codeBlock(one, at))
  const { numbers: strata, count } = numbered(rows.stint, (stint) => stratumOf(prepared, stint, stratum))
  const x = fromColumns(
    coded.flatMap(({ columns }) => columns),
    rows.y.length,
  )
  const own = labels.length - 1
  return {
    labels,
    codes,
    rows,
    x,
    names: coded.flatMap(({ names }) => names),
    own,
    strata,
    count,
    told: columnsWithin(x, own, strata, count),
  }
}

const atLevels = (rows: ModelRows, codes: Float64Array): ModelRows =>
  pickRows(
    rows,
    positionsWhere(rows.stint.length, (i) => !Number.isNaN(codes[rows.stint[i] ?? -1] ?? Number.NaN)),
  )

/** Whether what is held alike makes up some of the levels within strata. */
export const hiddenWithin = ({ covariates }: Place, { told }: CodedWithin): boolean =>
  covariates.length > 0 && told.ownHidden

const goesAlong = ({ stratum, covariates }: Place): string =>
  `Within ${stratum}s it goes along with ${listed(namesHeld(covariates), covariates.length)} and cannot be told from it`

const mostRounds = 6

/** Fits coded levels within strata; a reason where that cannot be done. */
export function fitWithin(place: Place, first: CodedWithin): Fitted | string {
  const { prepared, stratum } = place
  if (hiddenWithin(place, first)) return goesAlong(place)
  const { labels, codes } = first
  let coded = first
  for (let round = 0; round < mostRounds; round++) {
    const { rows, x, names, own, strata, count, told } = coded
    const {
      numbers: cluster,
      count: clusters,
      keys: trips,
    } = numbered(rows.stint, (stint) => prepared.facts.trip[stint] ?? -1)
    const { kept } = told
    if (kept.filter((j) => j < own).length < labels.length - 1) return nowhere[stratum]
    const design: ClusteredRows = {
      x: selectColumns(x, kept),
      y: rows.y,
      offset: rows.offset,
      cluster: strata,
      clusters: count,
    }
    const fit = conditionalPoisson(design)
    if (fit.kind === "fit") {
      const level = numbersAt(codes, rows.stint)
      return {
        rows: design,
        fit,
        labels,
        columns: labels.map((label) => kept.findIndex((j) => names[j] === `${comparedName} ${label}`)),
        holding: clustersHolding({ level, y: rows.y, stratum: strata, cluster }),
        cluster,
        clusters,
        level,
        trips,
      }
    }
    if (fit.kind !== "separated") return nowhere[stratum]
    if (kept.some((j, at) => j < own && fit.direction[at] !== 0))
      return `In the ${stratum}s that hold both, all fish fell to one of them`
    coded = codeWithin(place, notForetold(rows, design, fit.direction), codes, labels)
  }
  return nowhere[stratum]
}

/** The most that a level without fish in the strata may give, and in how many trips it met the other. */
export type BoundWithin = {
  readonly high: number
  readonly df: number
  readonly trips: number
  readonly events: number
}

/**
 * The most that the last of the levels, which had no event, may give as a multiple of the first: one-sided, by the conditional
 * likelihood at the cut that a lone zero deserves, as many times as events clump (`deff`). A reason where that cannot be done.
 */
export function boundWithin(place: Place, coded: CodedWithin, deff: number): BoundWithin | string {
  const { prepared, stratum, covariates } = place
  if (hiddenWithin(place, coded)) return goesAlong(place)
  const { rows, x, names, strata, count, labels, codes, told } = coded
  const none = labels.length - 1
  const { numbers: cluster } = numbered(rows.stint, (stint) => prepared.facts.trip[stint] ?? -1)
  const holding = clustersHolding({
    level: numbersAt(codes, rows.stint),
    y: rows.y,
    stratum: strata,
    cluster,
  })
  const trips = holding.both(0, none)
  if (trips === 0) return nowhere[stratum]
  if (trips < 2) return "Only one trip holds both, so nothing shows how much trips differ"
  const column = told.kept.findIndex((j) => names[j] === `${comparedName} ${labels[none] ?? ""}`)
  const design = {
    x: selectColumns(x, told.kept),
    y: rows.y,
    offset: rows.offset,
    cluster: strata,
    clusters: count,
  }
  const bound = column < 0 ? null : emptyWithinBound(design, column, emptyWithinCut(trips - 1, deff))
  if (bound !== null)
    return { high: Math.exp(bound), df: trips - 1, trips, events: holding.eventsIn(0, 0, none) }
  if (covariates.length === 0) return nowhere[stratum]
  // where what is held alike leaves no finite fit of the others, they are left as they were fished
  const bare = { ...place, covariates: [] }
  return boundWithin(bare, codeWithin(bare, rows, codes, labels), deff)
}

/** The rows that could still have an event: along a direction in which others gain for ever, those farthest in their stratum. */
function notForetold(rows: ModelRows, design: ClusteredRows, direction: Float64Array): ModelRows {
  const along = new Float64Array(rows.y.length)
  multiply(design.x, direction, along)
  const most = new Float64Array(design.clusters).fill(Number.NEGATIVE_INFINITY)
  design.cluster.forEach((s, i) => {
    most[s] = Math.max(most[s] ?? 0, along[i] ?? 0)
  })
  return pickRows(
    rows,
    positionsWhere(along.length, (i) => (along[i] ?? 0) >= (most[design.cluster[i] ?? 0] ?? 0) - 1e-9),
  )
}

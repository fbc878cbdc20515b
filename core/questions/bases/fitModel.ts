import type { Facts } from "../../facts.ts"
import type { Block, Covariates } from "../../stats/design/block.ts"
import { type Design, makeDesign } from "../../stats/design/design.ts"
import { biasReducedFit, BiasReducedContrasts } from "../../stats/inference/biasReduced.ts"
import { cannotSeparate } from "../../stats/glm/separation.ts"
import { clusterLevelColumns } from "../../stats/inference/clusterLevel.ts"
import { type Contrasted, ContrastedFit, LEAST_DF } from "../../stats/inference/adjustedContrast.ts"
import type { ClusteredRows } from "../../stats/likelihood/rows.ts"
import { multiply } from "../../stats/matrix/matrix.ts"
import { type MixedFit, fitMixed } from "../../stats/mixed/fitMixed.ts"
import type { MixedStart } from "../../stats/mixed/parameters.ts"
import { numbered } from "../../stats/numbered.ts"
import { positionsWhere, valuesAt } from "../../stats/positions.ts"
import type { Covariate } from "../held/covariate.ts"
import { type ModelRows, pickRows } from "./modelRows.ts"

/** A fitted model of an outcome, trips as clusters. */
export type Model = {
  readonly rows: ModelRows
  readonly covariates: Covariates
  readonly design: Design
  readonly clustered: ClusteredRows
  readonly fit: MixedFit
  readonly contrasted: Contrasted
  /** Where it is bias-reduced and has no trip intercepts, instead of maximum likelihood with one a trip: the same contrasts. */
  readonly biasReduced: BiasReducedContrasts | null
  /** Rows that something held alike foretells by itself, and which therefore say nothing more. */
  readonly foretold: number
}

export type Unfitted = { readonly code: string; readonly text: string }

/** Above so many rows the likelihood is Laplace's, below it 15-node quadrature, which takes twice the time. */
const rowsForQuadrature = 4000
const mostRounds = 6

/** What spares a fit work: a model of much the same rows and columns at which it may begin, and the rows coded by the blocks. */
export type AtHand = { readonly near?: Model | undefined; readonly designed?: Designed | undefined }

/** Fits the blocks to the rows, trips as clusters; a sentence where that cannot be done. `own` names the blocks compared:
 *  where these are separated there is no fit, other rows that nothing is left to learn from are set aside. Begun at a
 *  model nearby, its likelihood is the same to 1e-11, its estimates to some 1e-6 of their standard errors. */
export function fitModel(
  facts: Facts,
  rows: ModelRows,
  blocks: readonly Block[],
  values: ReadonlyMap<string, Float64Array>,
  own: ReadonlySet<string>,
  { near, designed }: AtHand = {},
): Model | Unfitted {
  let [left, foretold] = [rows, 0]
  for (let round = 0; round < mostRounds; round++) {
    const { covariates, design, clustered } =
      left === rows && designed !== undefined ? designed : designedRows(facts, left, blocks, values)
    const df = freedom(clustered)
    if (df < LEAST_DF) return tooFewTrips(clustered)
    const nodes = left.y.length > rowsForQuadrature ? { nodes: 1 } : {}
    const fit = fitMixed(clustered, left.family, { ...startNear(design, clustered, near), ...nodes })
    if (fit.kind !== "separated" && fit.kind !== "not fitted")
      return fit.covariance === null
        ? notFound
        : {
            rows: left,
            covariates,
            design,
            clustered,
            fit,
            contrasted: new ContrastedFit(clustered, fit, df),
            biasReduced: null,
            foretold,
          }
    if (fit.kind === "not fitted") return notFound
    const pulled = design.spans.find(
      ({ name, from, to }) => own.has(name) && fit.direction.slice(from, to).some((value) => value !== 0),
    )
    if (pulled !== undefined)
      return {
        code: "separated",
        text: "Some level is told by the outcome alone, all or none: a model has no finite answer.",
      }
    const eta = new Float64Array(left.y.length)
    multiply(design.x, fit.direction, eta)
    const kept = positionsWhere(eta.length, (i) => Math.abs(eta[i] ?? 0) < 1e-9)
    foretold += left.y.length - kept.length
    if (kept.length === 0 || kept.length === left.y.length) return notFound
    left = pickRows(left, kept)
  }
  return notFound
}

/** The fit of a model nearby, whole where it has these very columns, else its coefficients by name; nothing where data that are
 *  separated would go unnoticed. */
function startNear(
  { names }: Design,
  clustered: ClusteredRows,
  near: Model | undefined,
): { readonly start?: MixedStart } {
  if (near === undefined) return {}
  const { fit, design, rows } = near
  if (names.length === design.names.length && names.every((name, j) => name === design.names[j]))
    return { start: fit }
  if (!cannotSeparate(clustered, rows.family)) return {}
  const known = new Map(design.names.map((name, j) => [name, fit.coefficients[j] ?? 0]))
  const coefficients = Float64Array.from(names, (name) => known.get(name) ?? 0)
  return { start: { coefficients, sd: fit.sd, dispersion: fit.dispersion } }
}

/** Trips less trip-level columns. */
const freedom = ({ x, cluster, clusters }: ClusteredRows): number =>
  clusters - clusterLevelColumns(x, cluster, clusters).length

const tooFewTrips = ({ x, clusters }: ClusteredRows): Unfitted => ({
  code: "few_trips",
  text: `${clusters} trips are too few for a model with ${x.cols} columns.`,
})

/** Fits the blocks to shares or chances where a level is told by the outcome alone, so that a model with trip intercepts has
 *  no finite answer: bias-reduced, without them; a sentence where that cannot be done. */
export function fitBiasReduced(
  facts: Facts,
  rows: ModelRows,
  blocks: readonly Block[],
  values: ReadonlyMap<string, Float64Array>,
): Model | Unfitted {
  const { family } = rows
  if (family !== "binomial logit" && family !== "binomial cloglog") return notFound
  const designed = designedRows(facts, rows, blocks, values)
  const { clustered } = designed
  const df = freedom(clustered)
  if (df < LEAST_DF) return tooFewTrips(clustered)
  const fit = biasReducedFit(clustered, family)
  if (fit.kind === "not fitted") return notFound
  const contrasted = new BiasReducedContrasts(clustered, fit, family, df)
  return { rows, ...designed, fit, contrasted, biasReduced: contrasted, foretold: 0 }
}

const notFound: Unfitted = { code: "not_fitted", text: "The model could not be fitted to these stints." }

export const isFitted = (model: Model | Unfitted): model is Model => "fit" in model

/** The values of covariates, known over all stints, at the rows of a model. */
export function covariatesAt(values: ReadonlyMap<string, Float64Array>, { stint }: ModelRows): Covariates {
  return {
    rows: stint.length,
    values: new Map([...values].map(([name, column]) => [name, valuesAt(column, stint)])),
  }
}

/** Rows coded by blocks, trips as clusters. */
export type Designed = {
  readonly covariates: Covariates
  readonly design: Design
  readonly clustered: ClusteredRows
}

export function designedRows(
  facts: Facts,
  rows: ModelRows,
  blocks: readonly Block[],
  values: ReadonlyMap<string, Float64Array>,
): Designed {
  const covariates = covariatesAt(values, rows)
  const design = makeDesign(blocks, covariates)
  return { covariates, design, clustered: clusteredRows(facts, rows, design) }
}

function clusteredRows(facts: Facts, rows: ModelRows, { x }: Design): ClusteredRows {
  const trips = numbered(rows.stint, (stint) => facts.trip[stint] ?? -1)
  return {
    x,
    y: rows.y,
    offset: rows.offset,
    weights: rows.trials,
    cluster: trips.numbers,
    clusters: trips.count,
  }
}

export const blocksOf = (covariates: readonly Covariate[]): Block[] =>
  covariates.flatMap(({ blocks }) => blocks)

export const valuesOf = (covariates: readonly Covariate[]): Map<string, Float64Array> =>
  new Map(covariates.flatMap(({ values }) => [...values]))

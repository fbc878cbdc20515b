import type { Answer } from "../../shared/answer.ts"
import { factorOf, type FactorId } from "../../shared/factors.ts"
import { standardisedCurve } from "../stats/inference/curve.ts"
import { positionsWhere, valuesAt } from "../stats/positions.ts"
import { blocksOf, fitModel, isFitted, valuesOf, type Model } from "./bases/fitModel.ts"
import { eventsToSpend } from "./bases/levelsTold.ts"
import { modelRows } from "./bases/modelRows.ts"
import { tellApart } from "./bases/tellApart.ts"
import { stintsOf, type Gathered } from "./gather.ts"
import { chooseHeld } from "./held/chooseHeld.ts"
import { covariateOf } from "./held/covariate.ts"
import type { Prepared } from "./prepare.ts"

/** Points of a curve, and the bins of what lies along its edge. */
const points = 41
const bins = 20
/** Of the weight this much at each end has no curve, nor has a bin with less than this part of it. */
const tail = 0.02
const leastInBin = 0.005
/** Rows averaged over at most: with a rate the shape does not depend on which. */
const mostRows = 2000

export type Curve = {
  readonly curve: NonNullable<Answer["curve"]>
  /** Weight (rod-hours, trials or fish) along x, in equal bins from the least value to the largest. */
  readonly density: readonly { readonly from: number; readonly to: number; readonly weight: number }[]
}

/**
 * The fitted outcome along a number or a cycle, with other things held alike as in the adjusted answer, and its pointwise 95%
 * band: a natural spline or cosines and sines in the model's own terms. No curve where there is no data: not beyond the
 * middle 96% of the weight, nor in a stretch with less than half a per cent of it. Null where no model can be had, and for
 * words and counts. `near`: the model of the factor's levels, where there is one.
 */
export function curveOf(
  prepared: Prepared,
  by: FactorId,
  gathered: Gathered,
  near: Model | undefined,
): Curve | null {
  const { facts, ask } = prepared
  const factor = factorOf(by)
  if (factor.kind !== "cyclic" && !(factor.kind === "continuous" && !factor.whole)) return null
  const stints = stintsOf(gathered)
  const own = covariateOf(facts, by, stints)
  if (own === null) return null
  const budget = { events: eventsToSpend(modelRows(prepared, stints)), columns: own.columns }
  const chosen = chooseHeld(facts, [by], ask.given, stints, budget)
  const rows = modelRows(prepared, chosen.rows)
  const [first] = own.blocks
  if (first === undefined || rows.y.length === 0) return null
  const { kept, confounded } = tellApart(rows, first, own.values, chosen.covariates)
  if (confounded.length > 0) return null
  const values = new Map([...valuesOf(kept), ...own.values])
  const names = new Set(own.values.keys())
  const model = fitModel(facts, rows, [...own.blocks, ...blocksOf(kept)], values, names, { near })
  if (!isFitted(model)) return null
  const column = facts.factors[by]
  if (column?.kind !== "number") return null
  const x = valuesAt(column.values, model.rows.stint)
  const span = factor.kind === "cyclic" ? ([0, factor.period] as const) : ends(x)
  const density = densityOf(x, model.rows.weight, span)
  const [low, high] = factor.kind === "cyclic" ? span : middle(x, model.rows.weight)
  const total = density.reduce((sum, { weight }) => sum + weight, 0)
  const grid = Array.from({ length: points }, (_, k) => low + ((high - low) * k) / (points - 1)).filter(
    (at) => {
      const bin = density.find(({ from, to }) => at >= from && at <= to)
      return bin !== undefined && bin.weight >= leastInBin * total
    },
  )
  const every = Math.ceil(model.rows.y.length / mostRows)
  const some = positionsWhere(x.length, (i) => i % every === 0)
  const turn = factor.kind === "cyclic" ? (2 * Math.PI) / factor.period : 1
  const told = standardisedCurve(
    model.fit,
    {
      design: model.design,
      covariates: {
        rows: some.length,
        values: new Map([...model.covariates.values].map(([name, all]) => [name, valuesAt(all, some)])),
      },
      weights: valuesAt(model.rows.weight, some),
    },
    {
      covariates: [...names].map((name, k) => ({ name, at: (value) => value * turn * (k + 1) })),
      grid: Float64Array.from(grid),
    },
    { df: model.contrasted.df, changes: model.contrasted.oneStep(), clusters: model.contrasted.clusters },
  )
  const curve = told.map(({ x: at, mean, low: least, high: most }) => ({
    x: at,
    estimate: mean,
    low: least,
    high: most,
  }))
  const finite = curve.every(({ estimate, low: least, high: most }) =>
    [estimate, least, most].every(Number.isFinite),
  )
  return finite && curve.length > 1 ? { curve, density } : null
}

const ends = (x: Float64Array): readonly [number, number] => [
  x.reduce((least, value) => Math.min(least, value), Number.POSITIVE_INFINITY),
  x.reduce((most, value) => Math.max(most, value), Number.NEGATIVE_INFINITY),
]

/** The values between which all but a tail of the weight on each side lies. */
function middle(x: Float64Array, weight: Float64Array): readonly [number, number] {
  const order = Array.from(x.keys()).sort((a, b) => (x[a] ?? 0) - (x[b] ?? 0))
  const total = weight.reduce((sum, w) => sum + w, 0)
  let [sum, low, high] = [0, Number.NaN, Number.NaN]
  for (const i of order) {
    sum += weight[i] ?? 0
    if (Number.isNaN(low) && sum >= tail * total) low = x[i] ?? 0
    if (Number.isNaN(high) && sum >= (1 - tail) * total) high = x[i] ?? 0
  }
  return [low, high]
}

function densityOf(
  x: Float64Array,
  weight: Float64Array,
  [from, to]: readonly [number, number],
): Curve["density"] {
  const width = (to - from) / bins
  const sums = new Float64Array(bins)
  x.forEach((value, i) => {
    const bin = Math.min(bins - 1, Math.max(0, Math.floor((value - from) / width)))
    sums[bin] = (sums[bin] ?? 0) + (weight[i] ?? 0)
  })
  return Array.from(sums, (sum, k) => ({ from: from + k * width, to: from + (k + 1) * width, weight: sum }))
}

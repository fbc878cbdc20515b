import type { Block } from "../../stats/design/block.ts"
import { jackknifedVariance } from "../../stats/inference/clusterDeletion.ts"
import { commonSupport } from "../../stats/inference/commonSupport.ts"
import { meanInterval, standardisedMean, type StandardisedMean } from "../../stats/inference/standardised.ts"
import { positionsWhere, valuesAt } from "../../stats/positions.ts"
import { column, quadraticForm, selectBlock, selectRows } from "../../stats/matrix/matrix.ts"
import type { Covariate } from "../held/covariate.ts"
import type { Ends } from "../estimate.ts"
import type { Model } from "./fitModel.ts"

/** Levels whose common conditions hold less of the effort than this cannot be set against each other. */
export const leastOverlap = 0.1

/** Levels' averages over the rows at which all of them could have been. */
export type Standardised = {
  /** Part of the weight that those rows hold. */
  readonly share: number
  /** Levels never fished under the others' conditions. */
  readonly leftOut: readonly string[]
  readonly over: () => ReadonlyMap<string, StandardisedMean>
  /** Two levels over the rows at which both could have been; null where hardly any. */
  pair(a: string, b: string): readonly [StandardisedMean, StandardisedMean] | null
  /** A level's average if its linear predictor were so much larger; null where it has no average. */
  shifted(label: string, by: number): number | null
  level(label: string): { readonly adjusted: Ends; readonly typical: number | null } | null
}

/** Standardises the levels of a categorical block, crossed with no other, over the conditions in which each was fished. */
export function standardise(model: Model, block: Block, held: readonly Covariate[]): Standardised {
  const { rows, covariates, design, fit, contrasted } = model
  if (block.kind !== "categorical") throw new RangeError("Levels are standardised, nothing else.")
  const name = block.covariate
  const codes = covariates.values.get(name) ?? new Float64Array()
  const own = design.spans.find((span) => span.name === name) ?? { from: 0, to: 0 }
  const along = (kind: "levels" | "range") =>
    held.filter((one) => one.support.kind === kind).map((one) => valuesAt(one.support.values, rows.stint))
  const [categorical, continuous] = [along("levels"), along("range")]
  const supportOf = (group: Int32Array, weight: Float64Array) =>
    commonSupport({ group, names: block.levels, weight, categorical, continuous })
  const meansOver = (
    flags: Uint8Array,
    levels: readonly number[],
    at: { coefficients: Float64Array; sd: number } = fit,
  ): Map<string, StandardisedMean> => {
    const kept = positionsWhere(flags.length, (i) => flags[i] === 1)
    if (kept.length === 0) return new Map()
    const weights = valuesAt(rows.weight, kept)
    const x = selectRows(design.x, kept)
    return new Map(
      levels.map((level) => {
        const label = block.levels[level] ?? ""
        for (let j = own.from; j < own.to; j++)
          column(x, j).fill(design.names[j] === `${name} ${label}` ? 1 : 0)
        return [label, standardisedMean(x, weights, fit.family, at)]
      }),
    )
  }
  const support = supportOf(Int32Array.from(codes), rows.weight)
  let means: ReadonlyMap<string, StandardisedMean> | null = null
  const over = () => (means ??= meansOver(support.kept, support.groups))
  return {
    share: support.share,
    leftOut: support.leftOut.map((level) => block.levels[level] ?? ""),
    over,
    pair: (a, b) => {
      const [known, other] = [over().get(a), over().get(b)]
      if (known !== undefined && other !== undefined) return [known, other]
      const two = [a, b].map((label) => block.levels.indexOf(label))
      const ofTwo = rows.weight.map((weight, i) => (two.includes(codes[i] ?? -1) ? weight : 0))
      const shared = supportOf(Int32Array.from(codes), ofTwo)
      if (shared.share < leastOverlap) return null
      const both = meansOver(shared.kept, two)
      const [ofA, ofB] = [both.get(a), both.get(b)]
      return ofA === undefined || ofB === undefined ? null : [ofA, ofB]
    },
    shifted: (label, by) => {
      const level = block.levels.indexOf(label)
      if (!support.groups.includes(level)) return null
      const coefficients = fit.coefficients.slice()
      coefficients[0] = (coefficients[0] ?? 0) + by
      return meansOver(support.kept, [level], { coefficients, sd: fit.sd }).get(label)?.mean ?? null
    },
    level: (label) => {
      const mean = over().get(label)
      if (mean === undefined) return null
      return {
        adjusted: { estimate: mean.mean, ...intervalOf(mean, fit, contrasted) },
        typical: mean.typical,
      }
    },
  }
}

/** The larger of the model's variance and the jackknife's, with the part of the spread between trips from the model. */
function intervalOf(
  mean: StandardisedMean,
  { coefficients, covariance, sd }: Model["fit"],
  contrasted: Model["contrasted"],
): { low: number; high: number } {
  if (covariance === null) throw new RangeError("An interval needs a fit with its covariance.")
  const p = coefficients.length
  const spread = sd > 0 ? 1 : 0
  const changes = contrasted.oneStep()
  const model = quadraticForm(mean.gradient.slice(0, p + spread), selectBlock(covariance, p + spread))
  const ofSpread =
    spread === 1 ? (mean.gradient[p] ?? 0) ** 2 * (covariance.data[p * (covariance.rows + 1)] ?? 0) : 0
  const jackknife =
    changes === null
      ? 0
      : jackknifedVariance(mean.gradient.slice(0, p), changes, contrasted.clusters) + ofSpread
  return meanInterval(mean.mean, mean.scale, Math.sqrt(Math.max(model, jackknife)), contrasted.df)
}

import type { Facts } from "../../facts.ts"
import { adjustedContrast, type Side } from "../../stats/inference/adjustedContrast.ts"
import { emptyLevelBound, emptyLevelBoundBeside, emptyLevelCut } from "../../stats/inference/emptyLevel.ts"
import type { OutcomeKind } from "../../../shared/outcomes.ts"
import { ratioEnd, type Ends, type RatioEstimate } from "../estimate.ts"
import { mostLevelsInPairs } from "../pairs.ts"
import { ratioOfMeans } from "./carried.ts"
import { comparedName, type ComparedLevels } from "./comparedLevels.ts"
import { blocksOf, designedRows, valuesOf, type Model } from "./fitModel.ts"
import { levelsTold, sidesTogether } from "./levelsTold.ts"
import type { Standardised } from "./standardise.ts"

/** With more rows than this, or too many levels for pairs, the bound of a level without events keeps the others' fit: fitting again would
 *  take seconds. */
const rowsForBounds = 4000

/** What an interval is called, by how the model was fitted. */
const words = {
  model: "t on trips",
  "likelihood ratio": "likelihood ratio at few events",
  jackknife: "delete-one-trip jackknife, t",
} as const
const reducedWords = { ...words, "likelihood ratio": "penalised profile likelihood" } as const

const finite = (value: number): number | null => (Number.isFinite(value) ? value : null)

/** Ratios of the levels of a fitted model, and what a level without events may give at most. */
export function adjustedContrasts(
  facts: Facts,
  kind: OutcomeKind,
  model: Model,
  compared: ComparedLevels,
  standardised: Standardised,
): {
  readonly contrast: (a: string, b: string, thorough: boolean) => RatioEstimate | null
  readonly emptyLevel: (label: string) => { readonly adjusted: Ends; readonly typical: number | null } | null
} {
  const { labels, empty, full } = compared
  const { design, contrasted, clustered, covariates } = model
  const ofRates = kind === "rate" || kind === "chance"
  /** Levels that a model with trip intercepts can hold. */
  const telling = labels.filter((label) => !empty.includes(label) && !full.includes(label))
  const told = levelsTold(
    model.rows,
    covariates.values.get(comparedName) ?? [],
    clustered.cluster,
    labels.length,
  )
  const manyLevels = labels.length + empty.length > mostLevelsInPairs
  const sideOf = (label: string) =>
    told[labels.indexOf(label)] ?? { events: 0, successes: 0, clusters: [], rows: 0, weight: 0 }
  const add = (into: Float64Array, label: string, part: number): void => {
    const at = design.names.indexOf(`${comparedName} ${label}`)
    if (at >= 0) into[at] = (into[at] ?? 0) + part
  }
  const read = (
    l: Float64Array,
    sides: readonly [Side, Side],
    carry: readonly [string, string] | null,
    thorough: boolean,
  ): RatioEstimate | null => {
    const found = adjustedContrast(
      contrasted,
      l,
      sides,
      thorough ? "thorough" : manyLevels ? "quickest" : "quick",
    )
    const method =
      model.biasReduced === null
        ? `mixed model, ${words[found.by]}`
        : `bias-reduced model without trip intercepts, ${reducedWords[found.by]}`
    if (carry === null)
      return {
        ratio: finite(Math.exp(found.estimate)),
        low: ratioEnd(found.low),
        high: ratioEnd(found.high),
        p: finite(found.p),
        df: found.df,
        method,
      }
    const means = standardised.pair(...carry)
    return means === null ? null : { ...ratioOfMeans(model, found, l, ...means), df: found.df, method }
  }
  const isLarge = manyLevels || model.rows.y.length > rowsForBounds
  const bounds = new Map<string, number | null>()
  /** The most by which the linear predictor of a level without events may lie above another's. */
  const boundOver = (none: string, other: string): number | null => {
    if (kind === "length") return null
    const key = JSON.stringify([none, other])
    if (!bounds.has(key)) {
      const mixed = isLarge ? boundBeside(none, other) : boundByMixed(none, other)
      bounds.set(key, mixed ?? boundByReduced(none, other))
    }
    return bounds.get(key) ?? null
  }
  const boundBeside = (none: string, other: string): number | null => {
    if (model.biasReduced !== null || !telling.includes(other)) return null
    const joined = compared.with([...labels, none])
    const values = new Map([...joined.values, ...valuesOf(compared.kept)])
    const rows = designedRows(facts, joined.rows, [joined.block, ...blocksOf(compared.kept)], values)
    const level = rows.design.names.indexOf(`${comparedName} ${none}`)
    const rest = rows.design.names.filter((_, j) => j !== level)
    if (level < 0 || rest.join("\n") !== design.names.join("\n")) return null
    const over = design.names.indexOf(`${comparedName} ${other}`)
    const { nodes } = model.fit
    return emptyLevelBoundBeside(rows.clustered, level, over, model.fit, { df: contrasted.df, nodes })
  }
  const boundByMixed = (none: string, other: string): number | null => {
    if (!telling.includes(other)) return null
    const joined = compared.with([other, ...telling.filter((label) => label !== other), none])
    const values = new Map([...joined.values, ...valuesOf(compared.kept)])
    const rows = designedRows(facts, joined.rows, [joined.block, ...blocksOf(compared.kept)], values)
    const level = rows.design.names.indexOf(`${comparedName} ${none}`)
    if (level < 0) return null
    const nodes = model.fit.nodes === 1 && model.biasReduced === null ? 1 : 15
    return (
      emptyLevelBound(rows.clustered, level, model.rows.family, { df: contrasted.df, nodes })?.bound ?? null
    )
  }
  const boundByReduced = (none: string, other: string): number | null => {
    if (model.biasReduced === null) return null
    const l = new Float64Array(design.x.cols)
    add(l, none, 1)
    add(l, other, -1)
    return model.biasReduced.mostAt(l, emptyLevelCut(contrasted.df))
  }
  /** The most that a level without events may give, as a multiple of what another one gives. */
  const mostTimes = (none: string, other: string): number | null => {
    const bound = boundOver(none, other)
    if (bound === null || ofRates) return bound === null ? null : Math.exp(bound)
    const [least, most] = [standardised.shifted(other, 0), standardised.shifted(other, bound)]
    return least === null || most === null ? null : most / least
  }
  const oneEmpty = (none: string, other: string, over: boolean): RatioEstimate | null => {
    const most = mostTimes(none, other)
    if (most === null) return null
    const shared = {
      p: null,
      df: contrasted.df,
      method: "profile likelihood at the cut that a lone zero deserves",
    }
    return over
      ? { ratio: 0, low: 0, high: finite(most), ...shared }
      : { ratio: null, low: finite(1 / most), high: null, ...shared }
  }
  return {
    contrast: (a, b, thorough) => {
      if (empty.includes(a) && empty.includes(b)) return null
      if (empty.includes(a)) return labels.includes(b) ? oneEmpty(a, b, true) : null
      if (empty.includes(b)) return labels.includes(a) ? oneEmpty(b, a, false) : null
      if (!labels.includes(a)) return null
      const l = new Float64Array(design.x.cols)
      add(l, a, 1)
      if (labels.includes(b)) {
        add(l, b, -1)
        return read(l, [sideOf(a), sideOf(b)], ofRates ? null : [a, b], thorough)
      }
      const others = labels.filter((label) => label !== a)
      if (b !== "others" || others.length === 0 || !ofRates) return null
      const total = others.reduce((sum, label) => sum + sideOf(label).weight, 0)
      for (const label of others) add(l, label, -sideOf(label).weight / total)
      return read(l, [sideOf(a), sidesTogether(others.map(sideOf))], null, thorough)
    },
    emptyLevel: (label) => {
      const first = labels.find((other) => !empty.includes(other) && standardised.over().has(other))
      if (!empty.includes(label) || first === undefined) return null
      const bound = boundOver(label, first)
      const most = bound === null ? null : standardised.shifted(first, bound)
      return most === null ? null : { adjusted: { estimate: 0, low: 0, high: finite(most) }, typical: 0 }
    },
  }
}

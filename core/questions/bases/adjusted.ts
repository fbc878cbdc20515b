import type { Facts } from "../../facts.ts"
import type { FactorId } from "../../../shared/factors.ts"
import { listed } from "../../../shared/figures.ts"
import type { OutcomeKind } from "../../../shared/outcomes.ts"
import { outcomeOf } from "../outcomes.ts"
import type { Ends, RatioEstimate } from "../estimate.ts"
import { stintsOf, type Gathered } from "../gather.ts"
import { chooseHeld, namesHeld, type NotHeld } from "../held/chooseHeld.ts"
import type { Covariate } from "../held/covariate.ts"
import type { Prepared } from "../prepare.ts"
import { adjustedContrasts } from "./adjustedContrasts.ts"
import { comparedLevels, comparedName, type ComparedLevels } from "./comparedLevels.ts"
import {
  blocksOf,
  fitBiasReduced,
  fitModel,
  isFitted,
  valuesOf,
  type Model,
  type Unfitted,
} from "./fitModel.ts"
import { eventsToSpend } from "./levelsTold.ts"
import { modelRows } from "./modelRows.ts"
import { leastOverlap, standardise, type Standardised } from "./standardise.ts"
import { hiddenBy } from "./tellApart.ts"

/** Levels compared by one model, other things held alike. */
export type Adjusted = {
  readonly model: Model
  readonly compared: ComparedLevels
  readonly held: readonly Covariate[]
  readonly notHeld: readonly NotHeld[]
  readonly standardised: Standardised
  /** `thorough`: with likelihood ratio and refits where events are few. */
  readonly contrast: (a: string, b: string, thorough: boolean) => RatioEstimate | null
  readonly level: (label: string) => { readonly adjusted: Ends; readonly typical: number | null } | null
  /** Whether a level's figures, and those of its pairs, come from a bias-reduced fit without trip intercepts. */
  readonly biasReduced: (label: string) => boolean
  /** What of it another model tells, as a clause after the model's method; empty where none does. */
  readonly besides: string
}

/** Why there is none, and what would have been held alike. */
export type NotAdjusted = Unfitted & {
  readonly held: readonly Covariate[]
  readonly notHeld: readonly NotHeld[]
  readonly compared: ComparedLevels | null
}

export const isAdjusted = (answer: Adjusted | NotAdjusted): answer is Adjusted => "model" in answer

/** The levels of a question compared by a model with a random intercept a trip, other things held alike by the rules of
 *  `chooseHeld`; a sentence where no such comparison can be had. `near` as in `fitModel`. */
export function adjust(
  prepared: Prepared,
  by: FactorId,
  gathered: Gathered,
  near?: Model,
): Adjusted | NotAdjusted {
  const { facts, ask } = prepared
  const stints = stintsOf(gathered)
  const chosen = chooseHeld(facts, [by, ...keptToOneLevel(prepared)], ask.given, stints, {
    events: eventsToSpend(modelRows(prepared, stints)),
    columns: gathered.levels.length - 1,
  })
  const compared = comparedLevels(prepared, gathered, chosen)
  const held = compared.kept
  const notHeld = [...chosen.notHeld, ...compared.confounded]
  const none = (code: string, text: string): NotAdjusted => ({ code, text, held, notHeld, compared })
  const { labels, empty, full } = compared
  const { kind, events, trials } = outcomeOf(ask.outcome)
  if (labels.length + full.length === 0) return none("no_events", `There are no ${events} to compare.`)
  if (labels.length + empty.length === 0)
    return none(
      "no_failures",
      `Every one of the ${trials ?? "trials"} succeeded: there is nothing to compare.`,
    )
  if (labels.length + empty.length + full.length < 2)
    return none("one_level", "Only one level was fished where all that is held alike is known.")
  if (compared.confounded.length > 0)
    return none(
      "collinear",
      `What is compared cannot be told from ${listed(namesHeld(compared.confounded))}.`,
    )
  const mixed = labels.length === 0 ? nothingMixed : mixedModel(facts, compared, near)
  const single = labels.length < 2 && full.length > 0
  const separated = !isFitted(mixed) && mixed.code === "separated"
  const reduced = full.length > 0 || separated ? reducedModel(facts, gathered, compared) : null
  const leads = isFitted(mixed) && !single ? { model: mixed, compared } : reduced
  if (leads === null)
    return isFitted(mixed) ? none("separated", nothingMixed.text) : none(mixed.code, mixed.text)
  const led = answersOf(facts, kind, leads)
  const { standardised } = led
  if (leads.compared.labels.length === 2 && standardised.share < leastOverlap)
    return none(
      "overlap",
      `Only ${Math.round(100 * standardised.share)}% of the effort lies where both were fished under the same conditions.`,
    )
  const beside = reduced === null || reduced === leads ? null : answersOf(facts, kind, reduced)
  const byReduced = (...some: readonly string[]) =>
    beside !== null && some.some((label) => full.includes(label))
  return {
    model: leads.model,
    compared: leads.compared,
    held,
    notHeld,
    standardised,
    contrast: (a, b, thorough) => (byReduced(a, b) ? beside : led)?.contrast(a, b, thorough) ?? null,
    level: (label) => (byReduced(label) ? beside : led)?.level(label) ?? null,
    biasReduced: (label) => leads.model.biasReduced !== null || byReduced(label),
    besides:
      beside === null
        ? ""
        : `; ${listed(full, full.length)}, none of whose ${trials ?? "trials"} failed, by a bias-reduced fit (Firth's penalty) without a trip intercept`,
  }
}

const nothingMixed: Unfitted = {
  code: "separated",
  text: "Some level is told by the outcome alone, all or none: a model has no finite answer.",
}

/** Levels compared by one model. */
type Modelled = { readonly model: Model; readonly compared: ComparedLevels }

function mixedModel(
  facts: Facts,
  { block, values, rows, kept, designed }: ComparedLevels,
  near: Model | undefined,
): Model | Unfitted {
  const all = new Map([...values, ...valuesOf(kept)])
  return fitModel(facts, rows, [block, ...blocksOf(kept)], all, new Set([comparedName]), {
    near,
    designed,
  })
}

/** All levels of shares or chances, those told by the outcome alone too, by a bias-reduced fit; null where it cannot be had. */
function reducedModel(facts: Facts, gathered: Gathered, compared: ComparedLevels): Modelled | null {
  const wanted = [...compared.labels, ...compared.empty, ...compared.full]
  const all = compared.with(gathered.levels.flatMap(({ label }) => (wanted.includes(label) ? [label] : [])))
  if (hiddenBy(all.rows, all.block, all.values, compared.kept)) return null
  const values = new Map([...all.values, ...valuesOf(compared.kept)])
  const model = fitBiasReduced(facts, all.rows, [all.block, ...blocksOf(compared.kept)], values)
  return isFitted(model) ? { model, compared: { ...compared, ...all } } : null
}

/** What a model says of pairs and single levels. */
function answersOf(facts: Facts, kind: OutcomeKind, { model, compared }: Modelled) {
  const standardised = standardise(model, compared.block, compared.kept)
  const { contrast, emptyLevel } = adjustedContrasts(facts, kind, model, compared, standardised)
  const level: Adjusted["level"] = (label) =>
    compared.empty.includes(label) ? emptyLevel(label) : standardised.level(label)
  return { standardised, contrast, level }
}

/** Factors that the question keeps to one level do not vary and need not be held alike. */
const keptToOneLevel = ({ ask }: Prepared): FactorId[] => {
  const factors = ask.where.map(({ factor }) => factor)
  return factors.filter((factor) => factors.indexOf(factor) === factors.lastIndexOf(factor))
}

import type { FactorId } from "../../../shared/factors.ts"
import { listed } from "../../../shared/figures.ts"
import { outcomeOf } from "../outcomes.ts"
import type { Ends, RatioEstimate } from "../estimate.ts"
import type { Gathered } from "../gather.ts"
import { chooseHeld, namesHeld, type NotHeld } from "../held/chooseHeld.ts"
import type { Covariate } from "../held/covariate.ts"
import type { Prepared } from "../prepare.ts"
import { adjustedContrasts } from "./adjustedContrasts.ts"
import { comparedLevels, comparedName, type ComparedLevels } from "./comparedLevels.ts"
import { blocksOf, fitModel, isFitted, valuesOf, type Model, type Unfitted } from "./fitModel.ts"
import { eventsToSpend } from "./levelsTold.ts"
import { modelRows } from "./modelRows.ts"
import { leastOverlap, standardise, type Standardised } from "./standardise.ts"

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
}

/** Why there is none, and what would have been held alike. */
export type NotAdjusted = Unfitted & {
  readonly held: readonly Covariate[]
  readonly notHeld: readonly NotHeld[]
  readonly compared: ComparedLevels | null
}

export const isAdjusted = (answer: Adjusted | NotAdjusted): answer is Adjusted => "model" in answer

/** The levels of a question compared by a model with a random intercept a trip, other things held alike by the rules of
 *  `chooseHeld`; a sentence where no such comparison can be had. */
export function adjust(prepared: Prepared, by: FactorId, gathered: Gathered): Adjusted | NotAdjusted {
  const { facts, ask } = prepared
  const stints = gathered.levels.flatMap(({ rows }) => rows).toSorted((a, b) => a - b)
  const chosen = chooseHeld(facts, [by, ...keptToOneLevel(prepared)], ask.given, stints, {
    events: eventsToSpend(modelRows(prepared, stints)),
    columns: gathered.levels.length - 1,
  })
  const compared = comparedLevels(prepared, gathered, chosen)
  const held = compared.kept
  const notHeld = [...chosen.notHeld, ...compared.confounded]
  const none = (code: string, text: string): NotAdjusted => ({ code, text, held, notHeld, compared })
  const { labels, empty, rows, block } = compared
  if (labels.length === 0)
    return none("no_events", `There are no ${outcomeOf(ask.outcome).events} to compare.`)
  if (labels.length + empty.length < 2)
    return none("one_level", "Only one level was fished where all that is held alike is known.")
  if (compared.confounded.length > 0)
    return none(
      "collinear",
      `What is compared cannot be told from ${listed(namesHeld(compared.confounded))}.`,
    )
  const values = new Map([...compared.values, ...valuesOf(held)])
  const model = fitModel(facts, rows, [block, ...blocksOf(held)], values, new Set([comparedName]))
  if (!isFitted(model)) return none(model.code, model.text)
  const standardised = standardise(model, block, held)
  if (labels.length === 2 && standardised.share < leastOverlap)
    return none(
      "overlap",
      `Only ${Math.round(100 * standardised.share)}% of the effort lies where both were fished under the same conditions.`,
    )
  const { contrast, emptyLevel } = adjustedContrasts(
    facts,
    outcomeOf(ask.outcome).kind,
    model,
    compared,
    standardised,
  )
  return {
    model,
    compared,
    held,
    notHeld,
    standardised,
    contrast,
    level: (label) => standardised.level(label) ?? emptyLevel(label),
  }
}

/** Factors that the question keeps to one level do not vary and need not be held alike. */
const keptToOneLevel = ({ ask }: Prepared): FactorId[] => {
  const factors = ask.where.map(({ factor }) => factor)
  return factors.filter((factor) => factors.indexOf(factor) === factors.lastIndexOf(factor))
}

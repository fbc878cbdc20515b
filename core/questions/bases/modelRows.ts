import type { Facts } from "../../facts.ts"
import type { Family } from "../../stats/likelihood/rows.ts"
import { numbersAt, valuesAt } from "../../stats/positions.ts"
import type { OutcomeKind } from "../../../shared/outcomes.ts"
import type { Prepared } from "../prepare.ts"
import { outcomeOf } from "../outcomes.ts"

/** What a model is fitted to: a row a stint, or for lengths a fish, each with the stint it belongs to. */
export type ModelRows = {
  readonly family: Family
  /** Position of each row's stint in the facts. */
  readonly stint: Int32Array
  readonly y: Float64Array
  /** Log rod-hours; undefined for shares and lengths. */
  readonly offset: Float64Array | undefined
  /** Trials of a share; undefined for the others. */
  readonly trials: Float64Array | undefined
  /** What averages weigh rows by: rod-hours, trials, fish. */
  readonly weight: Float64Array
}

const familyOf: Record<OutcomeKind, Family> = {
  rate: "negative binomial",
  share: "binomial logit",
  chance: "binomial cloglog",
  length: "gaussian",
}

/** The rows of a model of the outcome at these stints; stints without exposure have none. */
export function modelRows({ facts, ask, measure, species }: Prepared, stints: readonly number[]): ModelRows {
  const { kind } = outcomeOf(ask.outcome)
  const family = familyOf[kind]
  if (kind === "length") return lengthRows(facts, species, stints)
  const all = new Int32Array(stints)
  const used = all.filter((stint) => (measure.exposure[stint] ?? 0) > 0)
  const exposure = valuesAt(measure.exposure, used)
  const share = kind === "share"
  return {
    family,
    stint: used,
    y: valuesAt(measure.events, used),
    offset: share ? undefined : exposure.map(Math.log),
    trials: share ? exposure : undefined,
    weight: exposure,
  }
}

function lengthRows(facts: Facts, species: readonly number[], stints: readonly number[]): ModelRows {
  const wanted = new Set(stints)
  const { strike } = facts
  const fish = strike.fate.flatMap((fate, k) => {
    const ofKind = species.length === 0 || species.includes(strike.species[k] ?? -1)
    const measured = (strike.length_mm[k] ?? Number.NaN) > 0
    return fate === "landed" && ofKind && measured && wanted.has(strike.stint[k] ?? -1) ? [k] : []
  })
  return {
    family: "gaussian",
    stint: numbersAt(strike.stint, fish),
    y: valuesAt(strike.length_mm, fish),
    offset: undefined,
    trials: undefined,
    weight: new Float64Array(fish.length).fill(1),
  }
}

/** These rows only. */
export function pickRows(rows: ModelRows, at: ArrayLike<number>): ModelRows {
  return {
    family: rows.family,
    stint: numbersAt(rows.stint, at),
    y: valuesAt(rows.y, at),
    offset: rows.offset === undefined ? undefined : valuesAt(rows.offset, at),
    trials: rows.trials === undefined ? undefined : valuesAt(rows.trials, at),
    weight: valuesAt(rows.weight, at),
  }
}

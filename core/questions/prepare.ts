import type { Facts } from "../facts.ts"
import type { FactorId } from "../../shared/factors.ts"
import type { Ask } from "../../shared/questions.ts"
import { gather, type Gathered } from "./gather.ts"
import { levelsOf, listedOrder, type Levels } from "./levels.ts"
import { measure, speciesPositions, type Measure } from "./outcomes.ts"
import { askedAbout, select, type Selection } from "./select.ts"

/** The stints asked about and their outcome, whatever they are then compared by. */
export type Prepared = {
  readonly facts: Facts
  readonly ask: Ask
  readonly species: readonly number[]
  readonly measure: Measure
  readonly asked: readonly number[]
}

/** Throws ProblemError `bad_ask` for a species or a level of `where` that the logbook does not have. */
export function prepare(facts: Facts, ask: Ask): Prepared {
  const species = speciesPositions(facts, ask.species)
  return {
    facts,
    ask,
    species,
    measure: measure(facts, ask.outcome, species),
    asked: askedAbout(facts, ask, species),
  }
}

/** The stints by level of one factor: levels that were fished, in the order in which they are listed. */
export function groupBy(prepared: Prepared, by: FactorId): { selection: Selection; gathered: Gathered } {
  const { facts, ask, measure: outcome, asked } = prepared
  const levels = levelsOf(facts, by, by === ask.by ? ask.cuts : null)
  const selection = select(facts, ask, asked, outcome, levels)
  return { selection, gathered: gatherAt(prepared, by, levels, selection.rows, outcome) }
}

/** These stints by level; those at which the factor is unknown are left out. */
export function gatherLevels(
  prepared: Prepared,
  by: FactorId,
  stints: readonly number[],
  outcome: Measure,
): Gathered {
  const { facts, ask } = prepared
  return gatherAt(prepared, by, levelsOf(facts, by, by === ask.by ? ask.cuts : null), stints, outcome)
}

function gatherAt(
  { facts }: Prepared,
  by: FactorId,
  { labels, codes }: Levels,
  stints: readonly number[],
  outcome: Measure,
): Gathered {
  const rows: number[][] = labels.map(() => [])
  for (const stint of stints) rows[codes[stint] ?? -1]?.push(stint)
  const hours = rows.map((own) => own.reduce((sum, stint) => sum + (facts.rod_hours[stint] || 0), 0))
  const fished = listedOrder(by, labels, hours).flatMap((level) => {
    const own = rows[level] ?? []
    return own.length === 0 ? [] : [{ label: labels[level] ?? "", rows: own }]
  })
  return gather(facts, outcome, fished)
}

/** The species asked about as the asker wrote them, joined by a comma; null for all fish. */
export const namesAsked = (ask: Ask): string | null =>
  ask.species.length === 0 ? null : ask.species.join(", ")

/** The species asked about as the logbook writes them. */
export const speciesText = ({ facts, species }: Prepared): string | null =>
  species.length === 0 ? null : species.map((position) => facts.species[position] ?? "").join(", ")

import type { Facts } from "../facts.ts"
import type { LeftOutReason } from "../../shared/answer.ts"
import { leftOutReasons } from "../../shared/answer.ts"
import { factorOf, type FactorId } from "../../shared/factors.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { Ask } from "../../shared/questions.ts"
import { levelsOf, type Levels } from "./levels.ts"
import { type Measure } from "./outcomes.ts"
import { perHour } from "../../shared/outcomes.ts"

/** Which stints an answer uses, and how many it leaves out for which reason; together those that were asked about. */
export type Selection = {
  readonly rows: readonly number[]
  readonly leftOut: readonly { readonly reason: LeftOutReason; readonly stints: number }[]
}

/**
 * The stints asked about: those that pass every `where` (levels of one factor are alternatives) and, with effort on
 * target trips only, whose trip's target is among `species`. Throws ProblemError `bad_ask` for a level that does not
 * exist.
 */
export function askedAbout(facts: Facts, ask: Ask, species: readonly number[]): number[] {
  const wanted = new Map<FactorId, { levels: Levels; codes: Set<number> }>()
  for (const { factor, level } of ask.where) {
    const entry = wanted.get(factor) ?? {
      levels: levelsOf(facts, factor, factor === ask.by ? ask.cuts : null),
      codes: new Set<number>(),
    }
    entry.codes.add(positionOf(factor, level, entry.levels.labels))
    wanted.set(factor, entry)
  }
  const passes = (stint: number) =>
    [...wanted.values()].every(({ levels, codes }) => codes.has(levels.codes[stint] ?? -1)) &&
    (ask.effort === "all" || species.includes(facts.target[stint] ?? -1))
  return Array.from({ length: facts.stints }, (_, i) => i).filter(passes)
}

function positionOf(factor: FactorId, level: string, labels: readonly string[]): number {
  const position = labels.findIndex((label) => label.toLowerCase() === level.trim().toLowerCase())
  if (position >= 0) return position
  const has = labels.length === 0 ? "The logbook has none." : `Its levels are: ${labels.join(", ")}.`
  throw new ProblemError(
    "bad_ask",
    `"${level}" is not a level of ${factorOf(factor).label} (${factor}). ${has}`,
    {
      factor,
      level,
    },
  )
}

/**
 * Parts the stints asked about into those used and those left out, each for the first reason that applies: trip,
 * outcome, effort, species, factor. Rates and the chance of a fish use complete
 * trips with known effort; shares and lengths any trip whose outcome was counted.
 */
export function select(
  facts: Facts,
  ask: Ask,
  asked: readonly number[],
  measure: Measure,
  levels: Levels,
): Selection {
  const needsEffort = perHour(ask.outcome)
  const reasonFor = (stint: number): LeftOutReason | null => {
    if (needsEffort && facts.complete[stint] !== 1) return "trip_not_complete"
    if (Number.isNaN(measure.events[stint] ?? Number.NaN)) return "outcome_not_counted"
    if (needsEffort && !((facts.rod_hours[stint] ?? Number.NaN) > 0)) return "effort_unknown"
    if (measure.speciesUnknown[stint] === 1) return "species_unknown"
    if ((levels.codes[stint] ?? -1) < 0) return "factor_unknown"
    return null
  }
  const rows: number[] = []
  const counts = new Map<LeftOutReason, number>()
  for (const stint of asked) {
    const reason = reasonFor(stint)
    if (reason === null) rows.push(stint)
    else counts.set(reason, (counts.get(reason) ?? 0) + 1)
  }
  const leftOut = leftOutReasons.flatMap((reason) => {
    const stints = counts.get(reason) ?? 0
    return stints > 0 ? [{ reason, stints }] : []
  })
  return { rows, leftOut }
}

import type { Facts } from "../facts.ts"
import { ProblemError } from "../../shared/problems.ts"
import { outcomeWords, type OutcomeWords } from "../../shared/outcomes.ts"
import type { Outcome } from "../../shared/questions.ts"
import type { Fate } from "../../shared/vocabulary.ts"

/** Which strikes an outcome is made of. */
type Counting = {
  /** A stint's relevant strikes are the rows of these fates; null for all. */
  readonly relevant: ReadonlySet<Fate> | null
  /** Which of them are the events; null for all. */
  readonly event: ReadonlySet<Fate> | null
}

const landed: ReadonlySet<Fate> = new Set<Fate>(["landed"])
export const hookedFates: ReadonlySet<Fate> = new Set<Fate>(["landed", "lost", "bitten off", "hooked"])

/**
 * What each outcome is made of. Rates and the chance of a fish are over trips that hold all of their effort; shares
 * and lengths need no effort, so that a partial trip's strikes serve as well.
 */
const countings = {
  landed_rate: { relevant: landed, event: null },
  strike_rate: { relevant: null, event: null },
  hook_up_share: { relevant: null, event: hookedFates },
  landing_share: { relevant: hookedFates, event: landed },
  any_fish: { relevant: landed, event: null },
  hang_up_rate: { relevant: null, event: null },
  length_mm: { relevant: landed, event: null },
} as const satisfies Record<Outcome, Counting>

/** The outcome's row with its general type: its words and which strikes count. */
export const outcomeOf = (outcome: Outcome): OutcomeWords & Counting => ({
  ...outcomeWords(outcome),
  ...countings[outcome],
})

/** The outcome of every stint, one position a stint. */
export type Measure = {
  /** Events; for lengths the sum of the lengths (mm), for the chance 0 or 1. NaN where not counted. */
  readonly events: Float64Array
  /** What the events are out of: rod-hours, strikes or hook-ups, fish measured. NaN where unknown. */
  readonly exposure: Float64Array
  /** 1 where a strike of unknown species keeps the stint from being counted for the species asked about. */
  readonly speciesUnknown: Uint8Array
  /** Relevant strikes that were no event, and those of them without species; strikes left uncounted for that. */
  readonly failures: Float64Array
  readonly failuresUnnamed: Float64Array
  readonly unnamed: Float64Array
}

/**
 * Positions in `facts.species` of the species named, ignoring case; empty for all fish. Throws ProblemError `bad_ask`
 * for a species that the logbook does not have.
 */
export function speciesPositions(facts: Facts, names: readonly string[]): number[] {
  return names.map((name) => {
    const position = facts.species.findIndex((known) => known.toLowerCase() === name.trim().toLowerCase())
    if (position >= 0) return position
    const has = facts.species.length === 0 ? "It names none." : `It has: ${facts.species.join(", ")}.`
    throw new ProblemError("bad_ask", `The logbook has no species "${name}". ${has}`, { species: name })
  })
}

/** The outcome of every stint of `facts`, of all fish or of the species at the given positions. */
export function measure(facts: Facts, outcome: Outcome, species: readonly number[]): Measure {
  const bySpecies = species.length > 0 && outcome !== "hang_up_rate"
  const tally = bySpecies || outcome === "length_mm" ? tallyStrikes(facts, outcome, species) : null
  const events = new Float64Array(facts.stints)
  const exposure = new Float64Array(facts.stints)
  const speciesUnknown = new Uint8Array(facts.stints)
  const share = outcomeWords(outcome).kind === "share"
  for (let i = 0; i < facts.stints; i++) {
    const counts = countsOf(facts, outcome, i)
    const known = !counts.some(Number.isNaN)
    const [total = Number.NaN, outOf = facts.rod_hours[i] ?? Number.NaN] = counts
    events[i] = known ? (tally?.events[i] ?? total) : Number.NaN
    exposure[i] = known ? (tally?.exposure?.[i] ?? outOf) : Number.NaN
    if (outcomeWords(outcome).kind === "chance") events[i] = Math.min(1, events[i] ?? Number.NaN)
    speciesUnknown[i] = bySpecies && !share && (tally?.unnamed[i] ?? 0) > 0 ? 1 : 0
  }
  const none = new Float64Array(facts.stints)
  return {
    events,
    exposure,
    speciesUnknown,
    failures: tally?.failures ?? none,
    failuresUnnamed: tally?.failuresUnnamed ?? none,
    unnamed: tally?.unnamed ?? none,
  }
}

/** The stint's own counts that must be known: the events, and for a share what they are out of. */
function countsOf(facts: Facts, outcome: Outcome, stint: number): readonly number[] {
  const of = (column: Float64Array) => column[stint] ?? Number.NaN
  switch (outcome) {
    case "landed_rate":
    case "any_fish":
    case "length_mm":
      return [of(facts.landed)]
    case "strike_rate":
      return [of(facts.strikes)]
    case "hang_up_rate":
      return [of(facts.hang_ups)]
    case "hook_up_share":
      return [of(facts.hook_ups), of(facts.strikes)]
    case "landing_share":
      return [of(facts.landed), of(facts.hook_ups)]
  }
}

/** Events and exposure counted strike by strike, for one or more species (none: all) or for lengths. */
function tallyStrikes(facts: Facts, outcome: Outcome, species: readonly number[]) {
  const row = outcomeOf(outcome)
  const lengths = row.kind === "length"
  const zeros = () => new Float64Array(facts.stints)
  const [events, outOf, failures, failuresUnnamed, unnamed] = [zeros(), zeros(), zeros(), zeros(), zeros()]
  const add = (column: Float64Array, stint: number, amount = 1) => {
    column[stint] = (column[stint] ?? 0) + amount
  }
  facts.strike.fate.forEach((fate, k) => {
    const stint = facts.strike.stint[k] ?? 0
    const position = facts.strike.species[k] ?? -1
    const length = facts.strike.length_mm[k] ?? Number.NaN
    if (row.relevant !== null && !row.relevant.has(fate)) return
    if (lengths && Number.isNaN(length)) return
    const isEvent = row.event === null || row.event.has(fate)
    if (!isEvent) add(failures, stint)
    if (species.length > 0 && position < 0) {
      add(unnamed, stint)
      if (!isEvent) add(failuresUnnamed, stint)
    } else if (species.length === 0 || species.includes(position)) {
      if (isEvent) add(events, stint, lengths ? length : 1)
      add(outOf, stint)
    }
  })
  const exposure = row.kind === "share" || lengths ? outOf : null
  return { events, exposure, failures, failuresUnnamed, unnamed }
}

import type { Answer, AnswerContrast, AnswerLevel } from "../../shared/answer.ts"
import type { FactorId } from "../../shared/factors.ts"
import { bases as basisNames, type Ask } from "../../shared/questions.ts"
import { isAdjusted } from "./bases/adjusted.ts"
import type { Compared } from "./compared.ts"
import { total, tripsOf, type Gathered, type Group } from "./gather.ts"
import { outcomeOf } from "./outcomes.ts"
import { namesAsked, type Prepared } from "./prepare.ts"
import type { Refusal } from "./refuse.ts"
import type { Selection } from "./select.ts"

type Data = Answer["data"]
export const noData: Data = {
  trips: 0,
  stops: 0,
  stints: 0,
  rod_hours: 0,
  events: 0,
  trials: null,
  left_out: [],
}

/** The fields that an answer and a refusal share. */
export const frame = (ask: Ask, by: FactorId, data: Data) => ({
  outcome: ask.outcome,
  by,
  unit: outcomeOf(ask.outcome).unit,
  species: namesAsked(ask),
  refused: null,
  data,
  headline: { basis: "raw" as const, why: "As fished: nothing else is held alike." },
  interaction: null,
  curve: null,
  model: null,
  verdict: null,
  ratios_of: null,
  standings: [],
  held: null,
  dry: [],
  beside: null,
  working: null,
  density: null,
  depends: null,
  planned: null,
  settle: null,
  overlap: null,
})

export const refused = (ask: Ask, by: FactorId, refusal: Refusal, data: Data): Answer => ({
  ...frame(ask, by, data),
  refused: refusal,
  levels: [],
  contrasts: [],
  influence: null,
  needed: null,
  cautions: [],
  sentence: refusal.text,
})

/** Lengths count the fish measured; everything else its events. Only shares have trials. */
function eventsAndTrials(ask: Ask, group: Group): { events: number; trials: number | null } {
  const { kind } = outcomeOf(ask.outcome)
  return {
    events: total(kind === "length" ? group.exposure : group.events),
    trials: kind === "share" ? total(group.exposure) : null,
  }
}

export function standsOn(
  { facts, ask }: Prepared,
  { rows, leftOut }: Selection,
  { trips, all }: Gathered,
): Data {
  const stops = new Set(rows.map((stint) => facts.stop[stint]))
  return {
    trips: trips.length,
    stops: stops.size,
    stints: rows.length,
    rod_hours: all.rodHours,
    ...eventsAndTrials(ask, all),
    left_out: leftOut.map((entry) => ({ ...entry })),
  }
}

export function levelRows({ prepared: { ask }, gathered, estimates, bases }: Compared): AnswerLevel[] {
  const adjusted = bases.adjusted !== null && isAdjusted(bases.adjusted) ? bases.adjusted : null
  return gathered.levels.flatMap((group, i) => {
    const estimate = estimates[i]
    if (estimate === undefined) return []
    const { raw, naive, method } = estimate
    const held = adjusted?.level(group.label) ?? null
    return {
      level: group.label,
      trips: tripsOf(group),
      stints: group.rows.length,
      rod_hours: group.rodHours,
      ...eventsAndTrials(ask, group),
      raw: { ...raw },
      adjusted: held === null ? null : { ...held.adjusted },
      typical: held?.typical ?? null,
      method,
      naive: naive === null ? null : { ...naive },
    }
  })
}

/** Every pair on every basis that could be computed. */
export function contrastRows({ pairs, bases }: Compared): AnswerContrast[] {
  return basisNames.flatMap((basis) =>
    pairs.flatMap((pair) => {
      const told = bases.of(basis, pair)
      if (!told.told) return []
      const { ratio, low, high, p, method } = told.estimate
      return { a: pair.a.label, b: pair.b.label, basis, ratio, low, high, p, q: told.q, method }
    }),
  )
}

import type { Facts } from "../facts.ts"
import { uncapital } from "../../shared/casing.ts"
import { leftOutWords } from "../../shared/answer.ts"
import { factorOf, type FactorId } from "../../shared/factors.ts"
import type { Ask } from "../../shared/questions.ts"
import { counted } from "../../shared/figures.ts"
import { basisWords } from "./bases/basisWords.ts"
import type { Headline } from "./compared.ts"
import { total, type Gathered } from "./gather.ts"
import { outcomeOf, type Measure } from "./outcomes.ts"
import type { Selection } from "./select.ts"

export type Refusal = { readonly code: string; readonly text: string }

/** Part of a species' failures that may lack a species before its share is refused. Ours. */
const unnamedFailuresAllowed = 0.1

/** Whether the logbook holds any stint at all. */
export const emptyLogbook = (facts: Facts): Refusal | null =>
  facts.stints > 0
    ? null
    : {
        code: "empty_logbook",
        text: "The logbook holds no stint of a closed trip yet: log or import one first.",
      }

/** That no stint is left of which something is known. */
export const noStints = (where: string, leftOut: number): Refusal => ({
  code: "nothing_left",
  text: `There is no stint in which ${where}${leftOut === 0 ? "" : `; ${counted(leftOut, "stint")} left out`}.`,
})

/** Why the one basis asked for has no answer for the two levels that lead, or null where it has or none was asked for. */
export function basisUnavailable(ask: Ask, headline: Headline | null): Refusal | null {
  if (ask.basis === null || ask.basis === "raw" || headline?.told.told === true) return null
  const told = headline?.told
  const why = told === undefined || told.told ? "only one level was fished" : uncapital(told.why)
  return {
    code: "basis_unavailable",
    text: `${basisWords[ask.basis]} this cannot be answered here: ${why}. Ask again without a basis.`,
  }
}

/** Why the stints asked about allow no answer by `by`, or null where they do. */
export function cannotAnswer(
  ask: Ask,
  by: FactorId,
  asked: readonly number[],
  selection: Selection,
  measure: Measure,
  gathered: Gathered,
): Refusal | null {
  if (asked.length === 0)
    return {
      code: "nothing_asked",
      text: "No stint in the logbook passes what was asked for: widen the question.",
    }
  if (selection.rows.length === 0) return nothingLeft(by, selection)
  return unnamedShare(ask, selection, measure) ?? nothingCounted(ask, selection, gathered)
}

function nothingLeft(by: FactorId, { leftOut }: Selection): Refusal {
  const only = leftOut.length === 1 ? leftOut[0] : undefined
  if (only?.reason === "factor_unknown") {
    const text = `${factorOf(by).label} is not known for any of the ${counted(only.stints, "stint")} asked about.`
    return { code: "no_level", text }
  }
  const why = leftOut.map(({ reason, stints }) => `${stints} ${leftOutWords[reason]}`).join(", ")
  return { code: "nothing_left", text: `No stint can be used. Left out: ${why}.` }
}

/** A share of one species cannot be told if too many failures might have been that species. */
function unnamedShare(ask: Ask, { rows }: Selection, measure: Measure): Refusal | null {
  if (ask.species.length === 0 || outcomeOf(ask.outcome).kind !== "share") return null
  const [failures, unnamed] = [measure.failures, measure.failuresUnnamed].map((column) =>
    total(Float64Array.from(rows, (stint) => column[stint] ?? 0)),
  )
  if (failures === undefined || unnamed === undefined || unnamed <= unnamedFailuresAllowed * failures)
    return null
  const what = ask.outcome === "hook_up_share" ? "strikes not hooked" : "hook-ups not landed"
  return {
    code: "species_unknown",
    text: `${unnamed} of ${failures} ${what} have no species, more than one in ten, so a share for one species cannot be told. Ask for all fish together.`,
  }
}

function nothingCounted(ask: Ask, { rows }: Selection, { all }: Gathered): Refusal | null {
  if (total(all.exposure) > 0) return null
  const row = outcomeOf(ask.outcome)
  const what = row.kind === "length" ? "landed fish with a length" : (row.trials ?? row.events)
  return {
    code: "nothing_counted",
    text: `There are no ${what} in the ${counted(rows.length, "stint")} asked about.`,
  }
}

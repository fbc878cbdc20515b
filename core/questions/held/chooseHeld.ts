import type { Facts } from "../../facts.ts"
import type { FactorId } from "../../../shared/factors.ts"
import { candidates, nameOfHeld, notForThis } from "./candidates.ts"
import { covariateOf, type Covariate } from "./covariate.ts"

export type NotHeld = { readonly factor: FactorId; readonly why: string }

/** What is held alike in a model, what is not and why, and the stints at which all of it is known. */
export type HeldAlike = {
  readonly covariates: readonly Covariate[]
  readonly notHeld: readonly NotHeld[]
  readonly rows: readonly number[]
}

/** A factor unknown at more stints than this part is not held alike; nor one that would leave less than half of them. Ours. */
const leastKnown = 0.6
const leastTogether = 0.5
/** Data that one more column of a model wants. Ours; the first is the usual rule of thumb of ten events a variable. */
const eventsAColumn = 10
const tripsAColumn = 4

/** What there is to be spent on columns: events (of a share the fewer of events and failures) and trips. */
export type Budget = { readonly events: number; readonly columns: number }

/**
 * Chooses what to hold alike, from the facts and never from how it goes with the outcome. `given` names it (an empty list:
 * nothing); null takes up the candidates (`among`, all of them unless said otherwise) in their order while each is known often
 * enough, varies, and leaves ten events and four trips to each column of the model. `rows` are the stints compared;
 * `compared` the factors whose effect is asked for.
 */
export function chooseHeld(
  facts: Facts,
  compared: readonly FactorId[],
  given: readonly FactorId[] | null,
  rows: readonly number[],
  { events, columns }: Budget,
  among: readonly FactorId[] = candidates.map(({ factor }) => factor),
): HeldAlike {
  const covariates: Covariate[] = []
  const notHeld: NotHeld[] = []
  let [known, spent] = [rows, columns]
  const trips = tripsAmong(facts, rows)
  const room = () => Math.min(Math.floor(events / eventsAColumn), Math.floor(trips / tripsAColumn)) - spent
  for (const factor of given ?? among) {
    const leave = (why: string) => notHeld.push({ factor, why })
    const never =
      given === null
        ? notForThis(factor, compared)
        : compared.includes(factor)
          ? "it is what is compared"
          : null
    if (never !== null) {
      leave(never)
      continue
    }
    const full = covariateOf(facts, factor, known)
    if (full === null) {
      leave(knownAt(facts, factor, rows) === 0 ? "it is not known" : "it does not vary enough")
      continue
    }
    const together = knownAmong(known, full)
    const has = known === rows ? together.length : knownAmong(rows, full).length
    if (given === null && has < leastKnown * rows.length) {
      leave(`it is known at ${has} of ${rows.length} stints only`)
      continue
    }
    if (given === null && together.length < leastTogether * rows.length) {
      leave(`with the rest it would be known at ${together.length} of ${rows.length} stints only`)
      continue
    }
    const chosen = full.columns <= room() ? full : covariateOf(facts, factor, known, true)
    if (given === null && (chosen === null || chosen.columns > room())) {
      leave(`too little data for ${full.columns} more columns (ten events and four trips each)`)
      continue
    }
    const used = chosen ?? full
    covariates.push(used)
    spent += used.columns
    known = together
  }
  return { covariates, notHeld, rows: known }
}

function tripsAmong({ trip, trips }: Facts, rows: readonly number[]): number {
  const fished = new Uint8Array(trips.length)
  for (const row of rows) fished[trip[row] ?? -1] = 1
  return fished.reduce((sum, one) => sum + one, 0)
}

/** The rows at which a covariate is known: the very list where it is at all of them. */
function knownAmong(rows: readonly number[], { values }: Covariate): readonly number[] {
  let kept = rows
  for (const column of values.values())
    if (!knownThroughout(column, kept)) kept = kept.filter((row) => !Number.isNaN(column[row] ?? Number.NaN))
  return kept
}

function knownThroughout(column: Float64Array, rows: readonly number[]): boolean {
  for (const row of rows) if (Number.isNaN(column[row] ?? Number.NaN)) return false
  return true
}

function knownAt(facts: Facts, factor: FactorId, rows: readonly number[]): number {
  const column = facts.factors[factor]
  if (column === undefined) return 0
  return rows.filter((row) =>
    column.kind === "number"
      ? !Number.isNaN(column.values[row] ?? Number.NaN)
      : (column.codes[row] ?? -1) >= 0,
  ).length
}

/** What is held alike or is not, by name. */
export const namesHeld = (some: readonly { readonly factor: FactorId }[]): string[] =>
  some.map(({ factor }) => nameOfHeld(factor))

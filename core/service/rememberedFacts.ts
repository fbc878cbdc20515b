import type { FactorId } from "../../shared/factors.ts"
import type { Facts } from "../facts.ts"
import type { Logbook } from "../store/logbook.ts"
import { readFacts } from "../store/readFacts.ts"

/** Gives the facts of the present version of a logbook, with these factors at least. */
export type FactsFor = (needed: readonly FactorId[]) => Facts

/** Reads facts and keeps those of the present version: asking again for factors already read costs nothing. */
export function rememberedFacts(book: Logbook): FactsFor {
  let kept: Facts | null = null
  return (needed) => {
    const version = book.version()
    const have = kept !== null && kept.version === version ? kept.factors : {}
    const missing = needed.filter((id) => have[id] === undefined)
    if (kept !== null && kept.version === version && missing.length === 0) return kept
    const facts = book.read((db) => readFacts(db, missing, version))
    kept = { ...facts, factors: { ...have, ...facts.factors } }
    return kept
  }
}

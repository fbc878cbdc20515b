import type { FactorId } from "../../shared/factors.ts"
import type { Facts } from "../facts.ts"
import type { Logbook } from "../store/logbook.ts"
import { readFactors, readFacts } from "../store/readFacts.ts"

/** Gives the facts of the present version of a logbook, with these factors at least. */
export type FactsFor = (needed: readonly FactorId[]) => Facts

/** Reads facts and keeps those of the present version: asking again for factors already read costs nothing, for others their columns. */
export function rememberedFacts(book: Logbook): FactsFor {
  let kept: Facts | null = null
  return function factsFor(needed): Facts {
    const version = book.version()
    const known = kept?.version === version ? kept : null
    const missing = needed.filter((id) => known?.factors[id] === undefined)
    if (known !== null && missing.length === 0) return known
    const facts = book.read((db) =>
      known === null
        ? readFacts(db, missing, version)
        : { ...known, factors: { ...known.factors, ...readFactors(db, missing) } },
    )
    // Another program may have written meanwhile: columns of two states would not belong together.
    if (book.version() !== version) return factsFor(needed)
    kept = facts
    return facts
  }
}

import type { FactorId } from "../../shared/factors.ts"
import type { Facts } from "../facts.ts"
import type { Logbook } from "../store/logbook.ts"
import { readFactors, readFacts } from "../store/readFacts.ts"
import type { Queue } from "./queue.ts"

/** Gives the facts of the present version of a logbook, with these factors at least. */
export type FactsFor = (needed: readonly FactorId[]) => Promise<Facts>

/** Factors read at a time, so that a save waits for a part of them only. */
const portion = 8
/** How often reading begins again because something was saved meanwhile, before it is done in one go. */
const mostBeginnings = 3

/**
 * Reads facts and keeps those of the present version: asking again for factors already read costs nothing, for others their columns.
 * Many factors are read in portions, each in its turn of the queue, where the store may be changed in between: then from the
 * beginning, since columns of two states would not belong together.
 */
export function rememberedFacts(book: Logbook, queue: Queue): FactsFor {
  let kept: Facts | null = null
  const readMore = (needed: readonly FactorId[], most: number): { facts: Facts; begun: boolean } => {
    const version = book.version()
    const known = kept?.version === version ? kept : null
    const missing = needed.filter((id) => known?.factors[id] === undefined).slice(0, most)
    if (known !== null && missing.length === 0) return { facts: known, begun: false }
    const facts = book.read((db) =>
      known === null
        ? readFacts(db, missing, version)
        : { ...known, factors: { ...known.factors, ...readFactors(db, missing) } },
    )
    // Another program may have written meanwhile.
    if (book.version() !== version) return readMore(needed, most)
    kept = facts
    return { facts, begun: known === null }
  }
  return async function factsFor(needed) {
    for (let beginnings = 0; ;) {
      const most = beginnings < mostBeginnings ? portion : needed.length
      const { facts, begun } = await queue(async () => readMore(needed, most))
      if (begun) beginnings++
      if (needed.every((id) => facts.factors[id] !== undefined)) return facts
    }
  }
}

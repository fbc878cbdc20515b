import type { Facts } from "./facts.ts"

/** Facts to one who may know a part of them: all of them, or the factors that were not known yet. */
export type FactsBeyond = { readonly all: Facts } | { readonly factors: Facts["factors"]; readonly all: null }

/** What of `facts` is not in `known` already. Facts read at once share their columns; those read anew are all sent. */
export function factsBeyond(known: Facts | null, facts: Facts): FactsBeyond {
  if (known === null || known.trip !== facts.trip || known.version !== facts.version) return { all: facts }
  const have: ReadonlySet<unknown> = new Set(Object.values(known.factors))
  return {
    all: null,
    factors: Object.fromEntries(Object.entries(facts.factors).filter(([, column]) => !have.has(column))),
  }
}

/** The facts meant, to one who had `known`. */
export function factsWith(known: Facts | null, beyond: FactsBeyond): Facts {
  if (beyond.all !== null) return beyond.all
  if (known === null) throw new Error("factors came without the facts they belong to")
  return { ...known, factors: { ...known.factors, ...beyond.factors } }
}

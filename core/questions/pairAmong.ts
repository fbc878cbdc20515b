import type { FactorId } from "../../shared/factors.ts"
import type { Basis } from "../../shared/questions.ts"
import { basesOf } from "./bases/basesOf.ts"
import { leadingBasis } from "./bases/lead.ts"
import { estimatorFor, type RatioEstimate } from "./estimate.ts"
import { gather, tripsOf, type Gathered, type Group } from "./gather.ts"
import { outcomeOf } from "./outcomes.ts"
import { comparePairs, type Pair } from "./pairs.ts"
import type { Prepared } from "./prepare.ts"

/** A pair of levels among some of a question's stints, on the basis that leads there. */
export type PairAmong = {
  readonly basis: Basis
  /** null where not both were fished. */
  readonly estimate: RatioEstimate | null
  /** Trips of the later level and of the earlier, and their events. */
  readonly trips: readonly [number, number]
  readonly groups: readonly [Group | undefined, Group | undefined]
  readonly stints: number
}

/** Compares a pair of levels again among the stints that pass; null where none does. */
export function pairAmong(
  prepared: Prepared,
  by: FactorId,
  gathered: Gathered,
  { a, b }: Pair,
  passes: (stint: number) => boolean,
): PairAmong | null {
  const { facts, measure, ask } = prepared
  const groups = gathered.levels.flatMap(({ label, rows }) => {
    const own = rows.filter(passes)
    return own.length === 0 ? [] : { label, rows: own }
  })
  if (groups.length === 0) return null
  const here = gather(facts, measure, groups)
  const own = (label: string) => here.levels.find((group) => group.label === label)
  const both = [own(a.label), own(b.label)] as const
  const shared = {
    trips: [tripsAt(both[0]), tripsAt(both[1])] as const,
    groups: both,
    stints: here.all.rows.length,
  }
  const pairs = comparePairs(here, estimatorFor(outcomeOf(ask.outcome).kind, facts, measure, here))
  const pair = pairs.find((one) => one.a.label === a.label && one.b.label === b.label)
  if (pair === undefined) return { ...shared, basis: "raw", estimate: null }
  const bases = basesOf({ ...prepared, ask: { ...ask, depends_on: null } }, by, here, [pair], null)
  const of = (basis: Basis) => bases.of(basis, pair)
  const basis = ask.basis ?? leadingBasis({ of, unlikePatience: false }).basis
  const told = of(basis)
  return { ...shared, basis: told.told ? basis : "raw", estimate: told.told ? told.estimate : pair.estimate }
}

const tripsAt = (group: Group | undefined): number => (group === undefined ? 0 : tripsOf(group))

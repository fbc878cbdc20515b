import { requireCount } from "../arguments.ts"

/** A pair of equal blocks, arm a and arm b, in an order drawn by a coin: the count of each, null where the block was not
 *  finished once the coin was known. A pair whose coin was never seen is none. */
export type Pair = { readonly a: number | null; readonly b: number | null }

/** Counts are cut to this before anything else, by a rule fixed before the first pair. */
export const CAP = 4

/** a - b of a pair with counts cut to CAP. A count missing takes the value from 0 to CAP that makes the difference smallest, or
 *  largest. */
export function cappedDifference({ a, b }: Pair, completed: "smallest" | "largest"): number {
  const [forA, forB] = completed === "smallest" ? [0, CAP] : [CAP, 0]
  return capped(a, forA) - capped(b, forB)
}

function capped(count: number | null, missing: number): number {
  if (count === null) return missing
  requireCount("A pair", "count", count)
  return Math.min(count, CAP)
}

import type { Span } from "./localClock.ts"

/** The first instants (UTC ms) of a span at which something begins to hold and ceases to; null where it does not. */
export type Turns = { readonly begins: number | null; readonly ends: number | null }

/**
 * How often the sky is looked at, ms. What holds for less may be missed: a sun whose limb shows for under five minutes
 * stays within 0.001 degrees of the horizon at 70 degrees north, where refraction varies by a hundred times that.
 */
const lookEvery = 5 * 60_000

/**
 * When `holds` first begins and first ceases to be true within a span, each to the millisecond, by bisection between
 * looks every five minutes. A turn at the span's own start counts as in it, one at its end as in the next.
 */
export function firstTurns(holds: (at: number) => boolean, { start, end }: Span): Turns {
  let begins: number | null = null
  let ends: number | null = null
  let before = start - 1
  let held = holds(before)
  while (before < end - 1 && (begins === null || ends === null)) {
    const after = Math.min(end - 1, before + lookEvery)
    const holding = holds(after)
    if (holding && !held) begins ??= turnBetween(holds, before, after)
    if (held && !holding) ends ??= turnBetween(holds, before, after)
    before = after
    held = holding
  }
  return { begins, ends }
}

/** The first millisecond after the turn that lies between two instants. */
function turnBetween(holds: (at: number) => boolean, before: number, after: number): number {
  const held = holds(before)
  while (after - before > 1) {
    const middle = Math.floor((before + after) / 2)
    if (holds(middle) === held) before = middle
    else after = middle
  }
  return after
}

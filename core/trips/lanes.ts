import type { Stretch } from "./tripDay.ts"

/**
 * A lane from 0 for each stretch, so that none of one lane overlap: every stretch, in order of start, takes the first lane
 * that is free again. Stretches that merely touch share a lane. The result is in the order given.
 */
export function lanesOf(stretches: readonly Stretch[]): number[] {
  const lanes = stretches.map(() => 0)
  const freeFrom: number[] = []
  const inTime = stretches
    .map((stretch, i) => ({ ...stretch, i }))
    .toSorted((a, b) => a.from - b.from || a.to - b.to)
  for (const { from, to, i } of inTime) {
    const free = freeFrom.findIndex((until) => until <= from)
    const lane = free < 0 ? freeFrom.length : free
    freeFrom[lane] = to
    lanes[i] = lane
  }
  return lanes
}

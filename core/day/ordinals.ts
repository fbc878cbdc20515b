import type { OpenChange } from "../store/put.ts"
import { dayOrdinals } from "../store/read/day.ts"

/** A stored row's number in its trip's order; null where it has none. */
export type OrdinalOf = (id: string | null) => number | null

/** The order of the trip's rows as stored. */
export function ordinalsIn(change: OpenChange, trip: string): OrdinalOf {
  const ordinals = dayOrdinals(change.db, trip)
  return (id) => (id === null ? null : (ordinals.get(id) ?? null))
}

/** The number a row is given, where it is not the one it has. */
export const moved = (was: number | null, is: number): { ordinal?: number } =>
  was === is ? {} : { ordinal: is }

/** Numbers in ascending order that keep those given wherever they are: a row in between moves as few others as can be. */
export function ascending(given: readonly (number | null)[]): number[] {
  let last = -1
  return given.map((ordinal) => {
    last = ordinal !== null && ordinal > last ? ordinal : last + 1
    return last
  })
}

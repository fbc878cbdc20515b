import type { DayStop } from "../../../shared/day.ts"
import { add, type OpenChange } from "../../store/put.ts"
import type { Days } from "../days.ts"
import { stopKey } from "../keys.ts"
import { ascending, moved, type OrdinalOf } from "../ordinals.ts"
import { differing, patch } from "../patch.ts"

const stopColumns = [
  "spot_id",
  "label",
  "start_at",
  "end_at",
  "platform",
  "ground",
  "structure",
  "why_left",
] as const

/** Writes the stops; gives the stored id of each. */
export function putStops(
  change: OpenChange,
  trip: string,
  { before, after, stintOf }: Days & { readonly stintOf: readonly number[] },
  ordinalOf: OrdinalOf,
  count: { others: number },
): string[] {
  const found = matchStops({ before, after, stintOf })
  const ordinals = ascending(found.map((at) => ordinalOf(before.stops[at]?.id ?? null)))
  return after.stops.map((stop, j) => {
    const old = before.stops[found[j] ?? -1]
    const ordinal = ordinals[j] ?? j
    if (old?.id == null) {
      const { id: _, ...cells } = stop
      return add(change, "stop", { ...cells, trip_id: trip, ordinal })
    }
    const cells = { ...differing(old, stop, stopColumns), ...moved(ordinalOf(old.id), ordinal) }
    if (patch(change, "stop", old.id, cells)) count.others += 1
    return old.id
  })
}

/** Which stored stop each wanted one is: by its id, where its stints are, or by its spot. */
function matchStops({ before, after, stintOf }: Days & { readonly stintOf: readonly number[] }): number[] {
  const taken = new Set<number>()
  const take = (at: number): number => {
    if (at >= 0) taken.add(at)
    return at
  }
  const free = (test: (stop: DayStop, at: number) => boolean): number =>
    before.stops.findIndex((stop, at) => !taken.has(at) && test(stop, at))
  const homes = after.stops.map((_, index) =>
    after.stints.flatMap(({ stop }, j) => {
      const at = stintOf[j] ?? -1
      const home = before.stints[at]?.stop
      return stop === index && home !== undefined ? [home] : []
    }),
  )
  const found = after.stops.map(({ id }) => take(id === null ? -1 : free((stop) => stop.id === id)))
  const pass = (test: (stop: DayStop, at: number, j: number) => boolean): void => {
    for (const [j, at] of found.entries()) if (at < 0) found[j] = take(free((stop, i) => test(stop, i, j)))
  }
  pass((stop, at, j) => stopKey(stop) === stopKey(after.stops[j]) && (homes[j]?.includes(at) ?? false))
  pass((stop, _, j) => stopKey(stop) === stopKey(after.stops[j]))
  pass((_, at, j) => homes[j]?.includes(at) ?? false)
  return found
}

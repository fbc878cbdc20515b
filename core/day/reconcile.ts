import type { Day, DayUnread } from "../../shared/day.ts"
import { entities } from "../../shared/entities.ts"
import { add, type OpenChange, removeById } from "../store/put.ts"
import { removeStint } from "../store/removeStint.ts"
import { canonicalDay } from "../tape/canonical.ts"
import type { TapeDay } from "../tape/reader.ts"
import { align } from "./align.ts"
import type { Tally } from "./days.ts"
import { mayBeSame, stintKey } from "./keys.ts"
import { ascending, ordinalsIn } from "./ordinals.ts"
import { differing, patch } from "./patch.ts"
import { putHead } from "./put/putHead.ts"
import { putReadings } from "./put/putReadings.ts"
import { putStops } from "./put/putStops.ts"
import { putStrikes, strikeHomes } from "./put/putStrikes.ts"
import { putUnread } from "./put/putUnread.ts"
import { strikeOfPlace } from "./strikePlace.ts"
import { groupIds, stintPatch } from "./stintPatch.ts"

/** What a change of a day did to its rows, and the stints of the day as they are stored now, in order. */
export type Reconciled = {
  readonly stints: Tally
  readonly readings: Tally
  readonly others: number
  readonly ids: readonly string[]
  /** The ids of new strikes by those that the wanted day gave them. */
  readonly strikes: ReadonlyMap<string, string>
}

/**
 * Makes the rows of a trip tell the day `wanted`, inside the caller's change. `stored` is the day as it stands. Rows that say
 * the same stay as they are, with their ids; of those that differ only what differs is written; what a tape cannot say of
 * a row is left alone. A tape leaves the sheet's unread cells alone; what the running log writes is recorded live.
 */
export function reconcileDay(
  change: OpenChange,
  trip: string,
  stored: Day,
  wanted: TapeDay,
  how: "tape" | "sheet" | "log",
): Reconciled {
  const before = canonicalDay(how !== "tape" ? stored : { ...stored, unread: stored.unread.filter(isLine) })
  const after = canonicalDay(wanted)
  const stintOf = align(
    before.stints.map((stint) => ({ stint, day: before })),
    after.stints.map((stint) => ({ stint, day: after })),
    ({ stint }) => stint.id,
    ({ stint, day }) => stintKey(stint, day),
    (one, other) => mayBeSame(one.stint, other.stint),
  )
  const count = { others: 0 }
  const ordinalOf = ordinalsIn(change, trip)
  const stopIds = putStops(change, trip, { before, after, stintOf }, ordinalOf, count)
  const rawGroups = new Map(stored.stints.map(({ id, share_group }) => [id, share_group]))
  const groups = groupIds(rawGroups, before, after, stintOf)
  const homes = strikeHomes(after.stints)
  const stints: Tally = { made: 0, changed: 0, removed: 0 }
  const ordinals = ascending(stintOf.map((at) => ordinalOf(before.stints[at]?.id ?? null)))
  const ids = after.stints.map((stint, j) => {
    const old = before.stints[stintOf[j] ?? -1]
    const place: StintPlace = {
      stop_id: stopIds[stint.stop] ?? null,
      ordinal: ordinals[j] ?? j,
      share_group: stint.share_group === null ? null : (groups.get(stint.share_group) ?? null),
    }
    if (old?.id == null) {
      const { id: _, stop: __, strikes, ...cells } = stint
      const id = add(change, "stint", NewStint.parse({ ...cells, ...place }))
      for (const [ordinal, { id: ___, ...strike }] of strikes.entries())
        add(change, "strike", { ...strike, stint_id: id, ordinal })
      stints.made += 1
      return id
    }
    const standing = {
      stop_id: before.stops[old.stop]?.id ?? null,
      ordinal: ordinalOf(old.id),
      share_group: rawGroups.get(old.id) ?? null,
    }
    const shifted = patch(change, "stint", old.id, differing(standing, place, placeColumns))
    const changed = patch(change, "stint", old.id, stintPatch(old, stint))
    const struck = putStrikes(change, old, { after: stint, at: j }, ordinalOf, homes)
    if (changed || struck) stints.changed += 1
    else if (shifted) count.others += 1
    return old.id
  })
  const readings = putReadings(change, trip, { before, after }, stopIds, ids)
  count.others += putUnread(change, trip, { before, after }, ids, homes.made)
  for (const { id, place } of stored.unread)
    if (id !== null && homes.gone.has(strikeOfPlace(place) ?? "")) removeById(change, "unread", id)

  for (const [at, { id }] of before.stints.entries())
    if (id !== null && !stintOf.includes(at)) {
      removeStint(change, id)
      stints.removed += 1
    }
  for (const { id } of before.stops)
    if (id !== null && !stopIds.includes(id)) {
      removeById(change, "stop", id)
      count.others += 1
    }
  if (putHead(change, trip, before, after, how)) count.others += 1
  return { stints, readings, others: count.others, ids, strikes: homes.made }
}

/** Unread cells belong to the sheet: a tape does not know of them. */
const isLine = ({ stint }: DayUnread): boolean => stint === null

/** Where a stint stands in its trip. */
type StintPlace = {
  readonly stop_id: string | null
  readonly ordinal: number | null
  readonly share_group: string | null
}
const placeColumns = ["stop_id", "ordinal", "share_group"] as const

const NewStint = entities.stint.omit({ id: true, created_at: true, updated_at: true, deleted_at: true })

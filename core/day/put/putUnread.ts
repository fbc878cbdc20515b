import { add, type OpenChange, removeById } from "../../store/put.ts"
import { align } from "../align.ts"
import type { Days } from "../days.ts"
import { unreadKey } from "../keys.ts"
import { patch } from "../patch.ts"
import { placeNow } from "../strikePlace.ts"

/** Makes what could not be read that wanted. Returns how many rows changed. */
export function putUnread(
  change: OpenChange,
  trip: string,
  { before, after }: Days,
  stintIds: readonly string[],
  strikeIds: ReadonlyMap<string, string>,
): number {
  const found = align(
    before.unread,
    after.unread,
    ({ id }) => id,
    unreadKey,
    () => false,
  )
  let rows = 0
  for (const [j, { id: _, stint, ...line }] of after.unread.entries()) {
    const cells = { ...line, place: placeNow(line.place, (strike) => strikeIds.get(strike) ?? strike) }
    const old = before.unread[found[j] ?? -1]
    const stint_id = stint === null ? null : (stintIds[stint] ?? null)
    if (old?.id == null) {
      add(change, "unread", { ...cells, stint_id, trip_id: trip })
      rows += 1
    } else if (patch(change, "unread", old.id, { ...cells, stint_id })) rows += 1
  }
  for (const [at, { id }] of before.unread.entries())
    if (id !== null && !found.includes(at)) {
      removeById(change, "unread", id)
      rows += 1
    }
  return rows
}

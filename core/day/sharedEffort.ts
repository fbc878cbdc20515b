import type { DayStint } from "../../shared/day.ts"
import { settled } from "../tape/amount.ts"
import { minuteMs } from "../tape/effort.ts"
import type { TapeDay } from "../tape/reader.ts"

/** Gives a row the clock of the one above: in turn with it (+), or at once on another rod (|). */
export function shareTime(day: TapeDay, above: DayStint, row: DayStint, joint: string): void {
  row.start_at = above.start_at
  row.end_at = above.end_at
  row.start_about = above.start_about
  row.break_minutes = above.break_minutes
  row.stop = above.stop
  row.angler_id = above.angler_id
  row.effort_source = above.effort_source
  if (joint !== "+") {
    row.share_group = null
    row.effort_minutes = null
    return
  }
  above.share_group ??= `new ${day.stints.indexOf(above)}`
  row.share_group = above.share_group
  evenOut(day, above.share_group)
}

/** Shares a group's stretch evenly. */
function evenOut(day: TapeDay, group: string): void {
  const mates = day.stints.filter(({ share_group }) => share_group === group)
  for (const mate of mates) {
    const { start_at, end_at } = mate
    mate.effort_source = "shared"
    mate.effort_minutes =
      start_at === null || end_at === null
        ? null
        : settled(((end_at - start_at) / minuteMs - (mate.break_minutes ?? 0)) / mates.length)
  }
}

/** A row that says its presentation without a plus leaves the group of the row above. */
export function leaveGroup(day: TapeDay, above: DayStint | undefined, row: DayStint): void {
  if (above?.share_group !== row.share_group || row.share_group === null) return
  const group = row.share_group
  Object.assign(row, {
    share_group: null,
    effort_minutes: null,
    effort_source: row.start_at === null ? null : "clocked",
  })
  const left = day.stints.filter(({ share_group }) => share_group === group)
  if (left.length > 1) evenOut(day, group)
  else
    for (const one of left)
      Object.assign(one, {
        share_group: null,
        effort_minutes: null,
        effort_source: one.start_at === null ? null : "clocked",
      })
}

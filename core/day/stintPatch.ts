import type { DayStint } from "../../shared/day.ts"
import { newId } from "../store/ids.ts"
import { cadenceColumns } from "../tape/cadence.ts"
import type { TapeDay } from "../tape/reader.ts"
import { differing } from "./patch.ts"

const stintColumns = [
  "angler_id",
  "presentation_id",
  "start_at",
  "start_about",
  "end_at",
  "break_minutes",
  "rods",
  "sight",
  "fished_depth_m",
  ...cadenceColumns,
  "counted_misses",
  "counted_losses",
  "counted_follows",
  "counted_hang_ups",
  "counted_landed",
  "follows",
  "hang_ups",
  "lures_lost",
  "why_changed",
  "notes",
] as const

/** What of a stint differs; its effort goes with its clocks. */
export function stintPatch(before: DayStint, after: DayStint): Partial<DayStint> {
  const cells: Partial<DayStint> = differing(before, after, stintColumns)
  const timed = "start_at" in cells || "end_at" in cells || "break_minutes" in cells
  const effort =
    before.effort_minutes !== after.effort_minutes || before.effort_source !== after.effort_source
  if (timed || effort)
    return { ...cells, effort_minutes: after.effort_minutes, effort_source: after.effort_source }
  return cells
}

/** The stored name of each group that shares an effort: the old one where a stint of it had one. */
export function groupIds(
  names: ReadonlyMap<string | null, string | null>,
  before: TapeDay,
  after: TapeDay,
  stintOf: readonly number[],
): Map<string, string> {
  const ids = new Map<string, string>()
  const used = new Set<string>()
  for (const [j, { share_group }] of after.stints.entries()) {
    if (share_group === null || ids.has(share_group)) continue
    const old = names.get(before.stints[stintOf[j] ?? -1]?.id ?? null) ?? null
    const name = old !== null && !used.has(old) ? old : newId()
    ids.set(share_group, name)
    used.add(name)
  }
  return ids
}

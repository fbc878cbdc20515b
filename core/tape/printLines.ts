import type { DayStint } from "../../shared/day.ts"
import { tickMinutes } from "../../shared/notation.ts"
import { cadenceColumns } from "./cadence.ts"
import { type TapeContext, usualRods } from "./context.ts"
import type { TapeDay } from "./reader.ts"

/** Stints that stand on one line: one, several with one clock, or a ten-minute strip. */
export type PrintLine = {
  readonly kind: "stints" | "strip"
  /** The first of them, by its place in the day, and how many they are. */
  readonly first: number
  readonly stints: readonly DayStint[]
}

/** Which stints of a canonical day stand on which line. */
export function linesOf(day: TapeDay, context: TapeContext): PrintLine[] {
  const alone = new Set(day.readings.flatMap(({ stint }) => stint ?? []))
  const breaks = new Set(day.unread.flatMap(({ place, position }) => (place === "tape" ? [position] : [])))
  const sizes = Map.groupBy(day.stints, ({ share_group }) => share_group)
  const whole = (group: string | null): number => (group === null ? 0 : (sizes.get(group)?.length ?? 0))
  const lines: PrintLine[] = []
  for (let first = 0; first < day.stints.length;) {
    const rest = day.stints.slice(first)
    const free = rest.findIndex((_, i) => i > 0 && breaks.has(first + i))
    const room = alone.has(first) ? 1 : free < 0 ? rest.length : free
    const until = rest.findIndex((_, i) => i > 0 && alone.has(first + i))
    const most = until < 0 ? room : Math.min(room, until)
    const strip = stripAt(rest.slice(0, most), rest, context)
    const size = strip > 0 ? strip : togetherAt(rest.slice(0, most), whole)
    lines.push({ kind: strip > 0 ? "strip" : "stints", first, stints: rest.slice(0, size) })
    first += size
  }
  return lines
}

const tickMs = tickMinutes * 60_000
const mostTicks = 36

/** What a ten-minute strip cannot say. */
const isTickedOnly = (stint: DayStint, context: TapeContext): boolean =>
  stint.effort_source === "ticked" &&
  stint.effort_minutes === null &&
  stint.rods === usualRods(stint.angler_id, context) &&
  stint.share_group === null &&
  stint.presentation_id !== null &&
  context.names.byMark(context.names.byId(stint.presentation_id)?.mark ?? "")?.id === stint.presentation_id &&
  plainColumns.every((column) => stint[column] === null)

/** What a line says once of all its stints, behind what came of them. */
const saidOnce = [
  "break_minutes",
  "sight",
  "fished_depth_m",
  "counted_misses",
  "counted_losses",
  "counted_follows",
  "counted_hang_ups",
  "counted_landed",
  "why_changed",
  "notes",
] as const
const plainColumns = [...cadenceColumns, ...saidOnce] as const

/** How many of these stints, from the first, make a strip; 0 where it is none. */
function stripAt(stints: readonly DayStint[], all: readonly DayStint[], context: TapeContext): number {
  const [first] = stints
  const from = first?.start_at ?? null
  if (first === undefined || from === null) return 0
  let size = 0
  let until = from
  let before: DayStint | null = null
  for (const stint of stints) {
    const { start_at, end_at } = stint
    if (start_at === null || end_at === null || !isTickedOnly(stint, context)) break
    if (stint.stop !== first.stop || stint.angler_id !== first.angler_id) break
    if (start_at < until || (start_at - from) % tickMs !== 0 || (end_at - from) % tickMs !== 0) break
    if ((end_at - from) / tickMs > mostTicks || (size > 0 && stint.start_about !== null)) break
    if (before !== null && before.end_at === start_at && before.presentation_id === stint.presentation_id)
      break
    size += 1
    until = end_at
    before = stint
  }
  const later = all.slice(size).filter(({ angler_id }) => angler_id === first.angler_id)
  return later.some(({ start_at }) => start_at !== null && start_at < until) ? 0 : size
}

/** What all stints of one line say alike. */
const lineColumns = ["stop", "angler_id", "start_at", "start_about", "end_at", ...saidOnce] as const

/** How many of these stints stand on the first one's line: at once, or in turn where their whole group is there. */
function togetherAt(stints: readonly DayStint[], whole: (group: string | null) => number): number {
  const [first] = stints
  if (first === undefined) return 0
  const alike = (stint: DayStint): boolean =>
    lineColumns.every((column) => stint[column] === first[column]) && stint.effort_source !== "ticked"
  let size = 0
  while (size < stints.length) {
    const stint = stints[size]
    if (stint === undefined || (size > 0 && !alike(stint))) break
    const { share_group } = stint
    if (share_group === null) {
      if (
        size > 0 &&
        (stint.start_at === null || stint.effort_minutes !== null || first.effort_minutes !== null)
      )
        break
      size += 1
      continue
    }
    const group = stints.slice(size, size + whole(share_group))
    const complete =
      group.length === whole(share_group) && group.every((one) => one.share_group === share_group)
    if (!complete || !group.every(alike)) break
    if (size > 0 && (stint.start_at === null || first.share_group === null)) break
    size += group.length
    // Minutes without a clock are those of one group.
    if (stint.start_at === null || stint.end_at === null) break
  }
  return Math.max(1, size)
}

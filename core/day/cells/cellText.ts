import type { DayReading, DayStint } from "../../../shared/day.ts"
import type { SheetColumn } from "../../../shared/sheet.ts"
import { settled } from "../../tape/amount.ts"
import { clockText, clockWords, minutesText } from "../../tape/clock.ts"
import type { TapeContext } from "../../tape/context.ts"
import { type More, moreTokens } from "../../tape/more.ts"
import { presentationText } from "../../tape/presentation.ts"
import { readingText } from "../../tape/readings.ts"
import type { TapeDay } from "../../tape/reader.ts"
import { placeText } from "../../tape/stop.ts"
import { type CameContext } from "../../tape/came.ts"
import { cameTokens } from "../../tape/printStrikes.ts"
import { tapeWord } from "../../tape/word.ts"

/** What the cells of a row say, as they are typed. A row is a stint of a canonical day. */
export function cellText(day: TapeDay, at: number, column: SheetColumn, context: TapeContext): string {
  const stint = day.stints[at]
  if (stint === undefined) return ""
  const { names, place, reader } = context
  switch (column) {
    case "who":
      return stint.angler_id === null ? "all" : names.textOf("angler", stint.angler_id)
    case "start":
      if (stint.start_at === null) return ""
      return `${stint.start_about === 1 ? "~" : ""}${clockWords(stint.start_at, place.zone)}`
    case "end":
      if (stint.end_at !== null) return clockWords(stint.end_at, place.zone)
      return stint.start_at === null && stint.effort_minutes !== null ? minutesText(stint.effort_minutes) : ""
    case "spot":
      return spotText(day, at, context)
    case "presentation":
      return `${isSharedAbove(day, at) ? "+" : ""}${presentationText(stint, names)}`
    case "rods":
      return String(stint.rods)
    case "came":
      return cameText(stint, { names, reader, place, start: stint.start_at })
    case "readings":
      return readingsOfRow(day, at)
        .map((reading) => rowReading(reading, stint, context))
        .join(" @")
    case "why":
      return stint.why_changed === null ? "" : tapeWord(stint.why_changed)
    case "notes":
      return stint.notes ?? ""
    case "more":
      return moreTokens(moreOf(day, at), reader).join(" ")
  }
}

/** A spot's code, on a stop's first row with what is said of the stop. */
function spotText({ stops, stints }: TapeDay, at: number, { names }: TapeContext): string {
  const index = stints[at]?.stop ?? -1
  const stop = stops[index]
  if (stop === undefined) return ""
  const first = stints.findIndex((stint) => stint.stop === index)
  const bare = { ...stop, platform: null, label: null, ground: null, structure: null, why_left: null }
  const none = { again: false, number: null }
  return placeText(first === at ? stop : bare, none, { arrive: "", leave: "" }, names)
}

/** Whether a row shares its effort with the one above. */
export function isSharedAbove({ stints }: TapeDay, at: number): boolean {
  const [above, stint] = [stints[at - 1], stints[at]]
  return (
    stint !== undefined &&
    stint.share_group !== null &&
    above?.share_group === stint.share_group &&
    above.start_at === stint.start_at &&
    above.end_at === stint.end_at
  )
}

/** What came of a stint, in a cell of its own: the first letters want no dot. */
function cameText(stint: DayStint, context: CameContext): string {
  const [first = "", ...rest] = cameTokens(stint, context)
  const letters = first.slice(1)
  const bare = first.startsWith(".") && /^[a-z]+$/.test(letters) && context.names.find(letters) === null
  return [bare ? letters : first, ...rest].join(" ")
}

/**
 * The readings that stand in a row: its stint's own, and those taken at its stop (or around) from its start to the next row
 * there; a day's first row has the earlier and the untimed ones too.
 */
export const readingsOfRow = (day: TapeDay, at: number): DayReading[] =>
  day.readings.filter((reading) => rowOfReading(day, reading) === at)

function rowOfReading({ stints }: TapeDay, { stint, stop, at }: DayReading): number {
  if (stint !== null) return stint
  const here = stints.flatMap((one, i) => (stop === null || one.stop === stop ? [{ one, i }] : []))
  const past = here.filter(({ one }) => at !== null && one.start_at !== null && one.start_at <= at)
  return (past.at(-1) ?? here[0])?.i ?? -1
}

function rowReading(reading: DayReading, stint: DayStint, { reader, place }: TapeContext): string {
  const of = reading.stint !== null ? "stint" : reading.stop === null ? "trip" : "stop"
  const text = readingText({ values: reading, source: reading.source, of }, reader)
  if (reading.at === stint.start_at) return text
  return `${reading.at === null ? "?" : clockText(reading.at, stint.start_at, place)} ${text}`
}

function moreOf(day: TapeDay, at: number): More {
  const stint = day.stints[at]
  if (stint === undefined) throw new Error(`no row ${at}`)
  const { share_group: group } = stint
  const mates = day.stints.filter(({ share_group }) => group !== null && share_group === group)
  const timed = stint.start_at !== null || stint.end_at !== null
  const even = mates.every(({ effort_minutes }) => effort_minutes === stint.effort_minutes)
  return {
    break_minutes: stint.break_minutes,
    sight: stint.sight,
    fished_depth_m: stint.fished_depth_m,
    why_changed: null,
    notes: null,
    counted_misses: stint.counted_misses,
    counted_losses: stint.counted_losses,
    counted_follows: stint.counted_follows,
    counted_hang_ups: stint.counted_hang_ups,
    counted_landed: stint.counted_landed,
    ticked: stint.effort_source === "ticked",
    fished:
      stint.effort_minutes === null || !timed || (group !== null && even)
        ? null
        : settled(stint.effort_minutes),
    group: group === null || isInRun(day, at) ? null : group,
  }
}

/** Whether a group's rows stand below one another, so that a plus sign says all. */
function isInRun(day: TapeDay, at: number): boolean {
  const group = day.stints[at]?.share_group ?? null
  const rows = day.stints.flatMap(({ share_group }, i) => (share_group === group ? [i] : []))
  return rows.slice(1).every((row) => isSharedAbove(day, row))
}

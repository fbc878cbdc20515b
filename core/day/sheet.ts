import type { Day, DayStint } from "../../shared/day.ts"
import { cadenceColumns } from "../tape/cadence.ts"
import type { Sheet, SheetCell, SheetColumn } from "../../shared/sheet.ts"
import { canonicalDay } from "../tape/canonical.ts"
import { clockWords } from "../tape/clock.ts"
import { type TapeContext, usualRods } from "../tape/context.ts"
import { sayCame, sayPresentation, sayReading } from "../tape/say.ts"
import type { TapeDay } from "../tape/reader.ts"
import { tellTape } from "../tape/tape.ts"
import { cellText, isSharedAbove, readingsOfRow } from "./cells/cellText.ts"
import { DayEditor } from "./editor.ts"
import { timesOf } from "./times.ts"
import { dayTotals } from "./totals.ts"
import { unclearCell } from "./cells/unclearCell.ts"

/** A stored day as a sheet: a row a stint, each cell as it is typed. */
export function sheetOf(trip: string, stored: Day, context: TapeContext): Sheet {
  const day = canonicalDay(stored)
  return {
    trip,
    zone: context.place.zone,
    date: context.place.date,
    rows: day.stints.map((stint, at) => ({
      id: stint.id ?? "",
      cells: rowOf((column) => cellOf(day, at, column, context)),
    })),
    times: timesOf(day.stints, context),
    lines: day.unread.flatMap(({ place, position, text }) =>
      place === "tape"
        ? [{ position, text, unclear: tellTape(text, context).lines[0]?.unclear ?? null }]
        : [],
    ),
    totals: dayTotals(day.stints),
  }
}

/** One value a column. */
const rowOf = (of: (column: SheetColumn) => SheetCell): Record<SheetColumn, SheetCell> => ({
  who: of("who"),
  start: of("start"),
  end: of("end"),
  spot: of("spot"),
  presentation: of("presentation"),
  rods: of("rods"),
  came: of("came"),
  readings: of("readings"),
  why: of("why"),
  notes: of("notes"),
  more: of("more"),
})

function cellOf(day: TapeDay, at: number, column: SheetColumn, context: TapeContext): SheetCell {
  const kept = day.unread.find(({ stint, place }) => stint === at && place === column)
  if (kept !== undefined)
    return {
      text: kept.text,
      carried: false,
      said: "",
      unclear: unclearCell(kept.text, () => new DayEditor(day, context).set(at, column, kept.text)),
    }
  const text = cellText(day, at, column, context)
  return {
    text,
    carried: carries(day, at, column, context),
    said: saidOf(day, at, column, context),
    unclear: null,
  }
}

/** Whether an empty cell would say the same. */
function carries(day: TapeDay, at: number, column: SheetColumn, context: TapeContext): boolean {
  const [above, stint] = [day.stints[at - 1], day.stints[at]]
  if (stint === undefined) return false
  switch (column) {
    case "who":
      return above?.angler_id === stint.angler_id
    case "start":
      return above !== undefined && stint.start_at !== null && laneAbove(day, at)?.end_at === stint.start_at
    case "end":
      return stint.end_at !== null && laneBelow(day, at)?.start_at === stint.end_at
    case "spot":
      return above?.stop === stint.stop
    case "presentation":
      return (
        above !== undefined &&
        !isSharedAbove(day, at) &&
        cadenceKeys.every((key) => above[key] === stint[key])
      )
    case "rods":
      return stint.rods === usualRods(stint.angler_id, context)
    case "came":
    case "readings":
    case "why":
    case "notes":
    case "more":
      return false
  }
}

const cadenceKeys = ["presentation_id", ...cadenceColumns] as const

const laneAbove = ({ stints }: TapeDay, at: number): DayStint | undefined =>
  stints.slice(0, at).findLast(({ angler_id }) => angler_id === stints[at]?.angler_id)
const laneBelow = ({ stints }: TapeDay, at: number): DayStint | undefined =>
  stints
    .slice(at + 1)
    .find(
      ({ angler_id, start_at }) => angler_id === stints[at]?.angler_id && start_at !== stints[at]?.start_at,
    )

function saidOf(day: TapeDay, at: number, column: SheetColumn, context: TapeContext): string {
  const stint = day.stints[at]
  if (stint === undefined) return ""
  const { names, place } = context
  switch (column) {
    case "who":
      return stint.angler_id === null ? "everybody" : names.nameOf(stint.angler_id)
    case "start":
      return stint.start_at === null
        ? "not known when"
        : `${stint.start_about === 1 ? "about " : ""}${clockWords(stint.start_at, place.zone)}`
    case "end":
      return stint.end_at === null
        ? stint.effort_minutes === null
          ? "not ended"
          : `${Math.round(stint.effort_minutes)} minutes`
        : `${clockWords(stint.end_at, place.zone)}${stint.start_at === null ? "" : `, ${Math.round((stint.end_at - stint.start_at) / 60_000)} minutes`}`
    case "spot": {
      const spot = day.stops[stint.stop]?.spot_id ?? null
      return spot === null ? "no named place" : names.nameOf(spot)
    }
    case "presentation":
      return sayPresentation(stint, context)
    case "rods":
      return stint.rods === 1 ? "1 rod" : `${stint.rods} rods`
    case "came":
      return sayCame(stint, context).replace(/^, /, "")
    case "readings":
      return readingsOfRow(day, at)
        .map((reading) => sayReading(reading, context))
        .join(" ")
    case "why":
      return stint.why_changed ?? ""
    case "notes":
    case "more":
      return cellText(day, at, column, context)
  }
}

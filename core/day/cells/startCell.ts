import type { DayStint } from "../../../shared/day.ts"
import { type ClockText, clockWords, instantAfter, instantNear } from "../../tape/clock.ts"
import { minuteMs } from "../../tape/effort.ts"
import { type OpeningClock, readOpening } from "../../tape/opening.ts"
import { type Piece, Unreadable } from "../../tape/piece.ts"
import type { DayRows } from "../rows.ts"
import { setTimes } from "../rowTimes.ts"

/** Reads a start into a row and those that share its clock; the row above ends with it where it did before. Throws Unreadable. */
export function setStart(rows: DayRows, at: number, piece: Piece): void {
  const row = rows.row(at)
  const above = rows.beside(at, -1)
  const before = above === null ? null : rows.row(above)
  const opening =
    piece.text === "" ? null : piece.text === "?" ? ({ kind: "unknown" } as const) : readOpening(piece)
  if (piece.text !== "" && opening === null)
    throw new Unreadable(
      piece,
      `"${piece.text}" is no time: 640, 6:40a, +35 (minutes after the last), 45m or ?.${/\s/.test(piece.text) ? " A whole line is typed on the tape." : ""}`,
    )
  const mates = rows.mates(at)
  const old = row.start_at
  const each = (change: (stint: DayStint) => void): void => {
    for (const mate of mates) change(rows.row(mate))
  }
  if (opening === null || opening.kind === "unknown") {
    const start = opening === null ? (before?.end_at ?? null) : null
    each((stint) => setTimes(rows.day, stint, start, stint.end_at, null))
    return
  }
  if (opening.kind === "minutes") {
    each((stint) => {
      setTimes(rows.day, stint, null, null, null)
      stint.effort_minutes = opening.minutes / (stint.share_group === null ? 1 : mates.length)
      stint.effort_source = stint.share_group === null ? "given" : "shared"
    })
    return
  }
  const clockOf = (said: OpeningClock): number | null =>
    said === null ? null : startInstant(rows, at, said.piece, said.clock, before)
  const last = before?.end_at ?? before?.start_at ?? null
  if (opening.kind === "after" && last === null)
    throw new Unreadable(piece, "There is no clock above from which to count the minutes.")
  const start =
    opening.kind === "after"
      ? (last ?? 0) + opening.minutes * minuteMs
      : clockOf(opening.kind === "range" ? opening.from : opening)
  const end =
    opening.kind === "range" && opening.to !== null
      ? instantAfter(opening.to.piece, opening.to.clock, start, rows.context.place)
      : row.end_at
  const freed = before?.end_at ?? null
  if (start !== null && before !== null && before.start_at !== null)
    closeAbove(rows, piece, above ?? -1, start, old)
  const taken =
    end === null && old === null && freed !== null && start !== null && freed > start ? freed : end
  each((stint) => setTimes(rows.day, stint, start, taken, opening.about ? 1 : null))
}

function startInstant(
  rows: DayRows,
  at: number,
  piece: Piece,
  clock: ClockText,
  before: DayStint | null,
): number {
  const { place } = rows.context
  if (before?.start_at != null) return instantAfter(piece, clock, before.start_at, place)
  const others = rows.day.stints.filter((stint, i) => i !== at && stint.start_at !== null)
  const near = rows.day.stints[at]?.start_at ?? others[0]?.start_at ?? null
  return near === null ? instantAfter(piece, clock, null, place) : instantNear(piece, clock, near, place)
}

/** The row above ends where this one begins, if it ended there before, or its end was not known. */
function closeAbove(rows: DayRows, piece: Piece, above: number, start: number, old: number | null): void {
  const before = rows.row(above)
  const follows = before.end_at === null || before.end_at === old || (old === null && before.end_at > start)
  if (!follows) return
  if (before.start_at !== null && start <= before.start_at)
    throw new Unreadable(
      piece,
      `The row above begins at ${clockWords(before.start_at, rows.context.place.zone)}: it would have no time.`,
    )
  for (const mate of rows.mates(above)) {
    const stint = rows.row(mate)
    setTimes(rows.day, stint, stint.start_at, start, stint.start_about)
  }
}

import { instantAfter, readClock, readMinutes } from "../../tape/clock.ts"
import { minuteMs } from "../../tape/effort.ts"
import { readMore } from "../../tape/more.ts"
import { part, type Piece, tokens, Unreadable } from "../../tape/piece.ts"
import type { DayRows } from "../rows.ts"
import { setTimes } from "../rowTimes.ts"

/** Reads an end, or minutes where there is no start, and a rest behind it, into a row and those that share its clock. Throws Unreadable. */
export function setEnd(rows: DayRows, at: number, piece: Piece): void {
  const row = rows.row(at)
  const mates = rows.mates(at)
  const [clockToken, ...rest] = tokens(piece)
  const pause = rest.length === 1 && rest[0] !== undefined ? readMore(rest[0], rows.context.reader) : null
  if (rest.length > 0 && pause?.break_minutes == null)
    throw new Unreadable(rest[0] ?? piece, "Behind the end only a rest may stand, -10m.")
  const token = clockToken ?? piece
  const end = endInstant(rows, at, token)
  for (const mate of mates) {
    const stint = rows.row(mate)
    if (typeof end === "object" && end !== null) {
      stint.effort_minutes = end.minutes / (stint.share_group === null ? 1 : mates.length)
      stint.effort_source = stint.share_group === null ? "given" : "shared"
      continue
    }
    if (pause?.break_minutes != null) stint.break_minutes = pause.break_minutes
    setTimes(rows.day, stint, row.start_at, end, row.start_about)
  }
}

function endInstant(rows: DayRows, at: number, piece: Piece): number | null | { readonly minutes: number } {
  const { start_at: start } = rows.row(at)
  if (piece.text === "?") return null
  if (piece.text === "") {
    const below = rows.beside(at, 1)
    return below === null ? null : rows.row(below).start_at
  }
  const later = piece.text.startsWith("+") ? piece.text.slice(1) : piece.text
  const bare = piece.text.startsWith("+") && /^\d+$/.test(later) ? Number(later) : null
  const minutes = bare ?? readMinutes(later)
  if (minutes !== null && minutes > 0) return start === null ? { minutes } : start + minutes * minuteMs
  const typed = /.x$/i.test(piece.text) ? part(piece, 0, piece.text.length - 1) : piece
  const clock = readClock(typed.text)
  if (clock === null)
    throw new Unreadable(piece, `"${piece.text}" is no end: a clock (705), minutes (45m or +45) or ?.`)
  const end = instantAfter(typed, clock, start, rows.context.place)
  if (start !== null && end <= start) throw new Unreadable(piece, "The end is not after the start.")
  return end
}

import type { DayStint } from "../../../shared/day.ts"
import type { TapeContext } from "../../tape/context.ts"
import { part, type Piece, splitAt, tokens, Unreadable } from "../../tape/piece.ts"
import { type Part, readPart } from "../../tape/presentation.ts"
import { cameContext, readCameTokens } from "./cameCell.ts"
import { presentedAs, emptyStint } from "../newStint.ts"
import type { DayRows } from "../rows.ts"
import { leaveGroup, shareTime } from "../sharedEffort.ts"

/** One presentation, or several with + or | between, each a row; a plus or bar at its head joins the row above. Throws Unreadable. */
export function setPresentation(rows: DayRows, at: number, piece: Piece): void {
  const row = rows.row(at)
  const above = rows.day.stints[at - 1]
  if (piece.text === "") {
    if (above !== undefined) Object.assign(row, presentedAs(above))
    return
  }
  if (piece.text === "?") {
    Object.assign(row, presentedAs(emptyStint))
    return
  }
  const joins = /^[+|]/.exec(piece.text)?.[0] ?? null
  if (joins !== null && above === undefined)
    throw new Unreadable(part(piece, 0, 1), "There is no row above to share the time with.")
  const whole = joins === null ? piece : part(piece, 1)
  const parts = readParts(rows.context, whole, row.start_at)
  const [first, ...more] = parts
  if (first === undefined) return
  usePart(row, first.part)
  if (joins !== null && above !== undefined) shareTime(rows.day, above, row, joins)
  else if (row.share_group !== null && parts.length === 1) leaveGroup(rows.day, above, row)
  for (const [i, { part: one, joint }] of more.entries()) {
    rows.insert(at + 1 + i)
    const next = rows.row(at + 1 + i)
    const [before] = rows.day.stints.slice(at + i, at + i + 1)
    usePart(next, { ...one })
    if (before !== undefined) shareTime(rows.day, before, next, joint)
  }
}

function readParts(
  context: TapeContext,
  piece: Piece,
  start: number | null,
): { part: Part; joint: string }[] {
  const came = cameContext(context, start)
  const pieces = splitAt(piece, (letter) => letter === "+" || letter === "|")
  return pieces.map((item) => {
    const [head, ...rest] = tokens(item)
    if (head === undefined) throw new Unreadable(item, "Another presentation is wanted here.")
    const read = readPart(head, came)
    readCameTokens(rest, read.came, came)
    return { part: read, joint: piece.text[item.at - piece.at - 1] ?? "" }
  })
}

function usePart(row: DayStint, { presentation_id, cadence, rods, minutes, came }: Part): void {
  Object.assign(row, cadence, { presentation_id })
  if (rods !== null) row.rods = rods
  if (minutes !== null) row.effort_minutes = minutes
  const said =
    came.strikes.length > 0 || [came.follows, came.hang_ups, came.lures_lost].some((n) => n !== null)
  if (said) Object.assign(row, came)
}

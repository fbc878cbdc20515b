import { nothingMore, readMore } from "../../tape/more.ts"
import { type Piece, tokens, Unreadable } from "../../tape/piece.ts"
import type { DayRows } from "../rows.ts"
import { setTimes } from "../rowTimes.ts"

/** Reads what else a row says of its effort and of what was counted; a rest is that of all rows that share its clock. Throws Unreadable. */
export function setMore(rows: DayRows, at: number, piece: Piece): void {
  const { reader } = rows.context
  let more = nothingMore
  for (const token of tokens(piece)) {
    const read = readMore(token, reader)
    if (read === null)
      throw new Unreadable(
        token,
        `"${token.text}" cannot stand here: sight, ticked, depth=1, count=-m, fished=35m, -10m.`,
      )
    more = { ...more, ...read }
  }
  for (const mate of rows.mates(at)) {
    const stint = rows.row(mate)
    const own = mate === at
    stint.break_minutes = more.break_minutes
    if (stint.share_group !== null) {
      setTimes(rows.day, stint, stint.start_at, stint.end_at, stint.start_about)
      if (own && more.fished !== null) stint.effort_minutes = more.fished
    } else if (own && (stint.start_at !== null || stint.end_at !== null)) {
      stint.effort_minutes = more.fished
      stint.effort_source = more.ticked
        ? "ticked"
        : more.fished === null
          ? stint.start_at === null
            ? null
            : "clocked"
          : "given"
    }
    if (!own) continue
    const {
      sight,
      fished_depth_m,
      counted_misses,
      counted_losses,
      counted_follows,
      counted_hang_ups,
      counted_landed,
    } = more
    Object.assign(stint, {
      sight,
      fished_depth_m,
      counted_misses,
      counted_losses,
      counted_follows,
      counted_hang_ups,
      counted_landed,
    })
  }
}

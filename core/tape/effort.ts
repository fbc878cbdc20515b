import type { DayStint } from "../../shared/day.ts"
import { settled } from "./amount.ts"
import { clockWords } from "./clock.ts"
import type { Lane } from "./lanes.ts"
import type { More } from "./more.ts"
import { type Piece, Unreadable } from "./piece.ts"

/** A minute, ms. */
export const minuteMs = 60_000
/** A stint is no longer than a day, ms. */
export const longestMs = 24 * 60 * minuteMs

/** Refuses a clock that would leave a stint above without time, or with less than was said of it. */
export function checkClosing(
  lane: Lane,
  token: Piece,
  at: number,
  stints: readonly DayStint[],
  zone: string,
): void {
  if (lane.until !== null && at < lane.until)
    throw new Unreadable(
      token,
      `The strip above runs to ${clockWords(lane.until, zone)}. Give a later clock, or take ticks off it.`,
    )
  let shared = 0
  for (const index of lane.open) {
    const stint = stints[index]
    if (stint === undefined || stint.start_at === null) continue
    const span = (at - stint.start_at) / minuteMs
    if (span <= 0)
      throw new Unreadable(
        token,
        "The stint above would have no time. Two rods at once stand on one line, with | between.",
      )
    if (span * minuteMs > longestMs)
      throw new Unreadable(token, "The stint above would be longer than a day. End it with a clock and x.")
    const rest = stint.break_minutes ?? 0
    if (stint.share_group !== null) shared += stint.effort_minutes ?? 0
    if (rest >= span || (stint.effort_minutes ?? 0) > span - rest + 1e-6 || shared > span - rest + 1e-6)
      throw new Unreadable(
        token,
        `The stint above says more minutes than its ${settled(span)} have room for.`,
      )
  }
}

/** How a stint's effort is known: `own` are the minutes that were said of it; null where it has none. */
export function sourceOf(
  more: More,
  shares: boolean,
  own: number | null,
  when: { at: number | null; end: number | null },
): DayStint["effort_source"] {
  if (shares || more.group !== null) return "shared"
  if (more.ticked) return "ticked"
  if (own !== null) return "given"
  return when.at === null ? null : "clocked"
}

/** Gives a closed stint of a shared stretch its even part, where no minutes were said. */
export function settleEffort(stint: DayStint, all: readonly DayStint[]): void {
  if (stint.share_group === null || stint.effort_minutes !== null) return
  if (stint.start_at === null || stint.end_at === null) return
  const parts = all.filter(({ share_group }) => share_group === stint.share_group).length
  const span = (stint.end_at - stint.start_at) / minuteMs - (stint.break_minutes ?? 0)
  stint.effort_minutes = settled(span / parts)
}

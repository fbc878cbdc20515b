import type { DayStint } from "../../shared/day.ts"
import { settled } from "../tape/amount.ts"
import { clockWords, minutesText } from "../tape/clock.ts"
import { minuteMs } from "../tape/effort.ts"
import { Unreadable } from "../tape/piece.ts"
import type { TapeDay } from "../tape/reader.ts"
import type { DayRows } from "./rows.ts"

/** Gives a stint its clocks, UTC ms; the parts of a shared effort stay even where they were. */
export function setTimes(
  day: TapeDay,
  stint: DayStint,
  start: number | null,
  end: number | null,
  about: 0 | 1 | null,
): void {
  const group = stint.share_group
  const mates = day.stints.filter(({ share_group }) => group !== null && share_group === group)
  const even = mates.every(({ effort_minutes }) => effort_minutes === mates[0]?.effort_minutes)
  stint.start_at = start
  stint.end_at = end
  stint.start_about = about
  if (group !== null) {
    if (even && start !== null)
      stint.effort_minutes =
        end === null ? null : settled(((end - start) / minuteMs - (stint.break_minutes ?? 0)) / mates.length)
    return
  }
  if (stint.effort_source === "given" && (start !== null || end !== null)) stint.effort_minutes = null
  if (stint.effort_source !== "ticked") stint.effort_source = start === null ? null : "clocked"
}

/** Refuses times of a row that contradict one another. Throws Unreadable. */
export function checkTimes(rows: DayRows, at: number): void {
  for (const mate of rows.mates(at)) {
    const { start_at: start, end_at: end, break_minutes: pause, effort_minutes, share_group } = rows.row(mate)
    if (start === null || end === null) continue
    const here = { text: "", at: 0 }
    const span = (end - start) / minuteMs
    if (span <= 0)
      throw new Unreadable(
        here,
        `The row would end at ${clockWords(end, rows.context.place.zone)}, not after its start.`,
      )
    if (span > 24 * 60) throw new Unreadable(here, "A row is no longer than a day.")
    const all =
      share_group === null ? [] : rows.day.stints.filter((stint) => stint.share_group === share_group)
    const minutes =
      share_group === null
        ? (effort_minutes ?? 0)
        : all.reduce((sum, stint) => sum + (stint.effort_minutes ?? 0), 0)
    if ((pause ?? 0) >= span || minutes > span - (pause ?? 0) + 1e-3)
      throw new Unreadable(
        here,
        `The row would say more minutes than its ${minutesText(span)} have room for.`,
      )
  }
}

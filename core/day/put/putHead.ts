import type { DayStint } from "../../../shared/day.ts"
import { type OpenChange, rowById } from "../../store/put.ts"
import type { TapeDay } from "../../tape/reader.ts"
import { patch } from "../patch.ts"

/**
 * The trip begins and ends with its stints where nothing else was said, and is closed when all of them are; not by the running
 * log, whose next stint may come.
 */
export function putHead(
  change: OpenChange,
  trip: string,
  before: TapeDay,
  after: TapeDay,
  how: "tape" | "sheet" | "log",
): boolean {
  const row = rowById(change.db, "trip", trip)
  if (row === null) throw new Error(`no trip ${trip}`)
  const [old, now] = [spanOf(before), spanOf(after)]
  const start_at = row.start_at === null || row.start_at === old.start ? now.start : row.start_at
  const wanted = row.end_at === null || row.end_at === old.end ? now.end : row.end_at
  const end_at = wanted !== null && start_at !== null && wanted < start_at ? null : wanted
  const ended = after.stints.length > 0 && after.stints.every(isEnded) && after.unread.length === 0
  const status =
    row.status !== "closed" && ended && how !== "log"
      ? "closed"
      : row.status === "planned" && after.stints.length > 0
        ? "open"
        : row.status
  const recorded = row.recorded ?? (how === "log" ? "live" : null)
  return patch(change, "trip", trip, { start_at: start_at ?? row.start_at, end_at, status, recorded })
}

const isEnded = ({ start_at, end_at, effort_minutes }: DayStint): boolean =>
  end_at !== null || effort_minutes !== null || start_at === null

function spanOf({ stints }: TapeDay): { start: number | null; end: number | null } {
  const starts = stints.flatMap(({ start_at }) => start_at ?? [])
  const ends = stints.flatMap(({ end_at }) => end_at ?? [])
  const whole = stints.length > 0 && stints.every(isEnded)
  return {
    start: starts.length === 0 ? null : Math.min(...starts),
    end: ends.length === 0 || !whole ? null : Math.max(...ends),
  }
}

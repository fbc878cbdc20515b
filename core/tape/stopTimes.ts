import type { DayStint, DayStop } from "../../shared/day.ts"
import { minuteMs } from "./effort.ts"
import type { Lane, Lanes } from "./lanes.ts"
import { Unreadable } from "./piece.ts"
import type { PlaceToken } from "./stop.ts"

/** Marks a stop's time that nobody knows. */
const unknownTime = -Infinity

/**
 * When a stop was reached and left as its line says, UTC ms; what it leaves out is left out. A time said to be unknown is marked
 * until `setStopTimes`. `at` is the line's own clock. Throws Unreadable.
 */
export function saidStopTimes(
  lanes: Lanes,
  lane: Lane,
  { arrive, leave }: PlaceToken,
  at: number | null,
): Partial<DayStop> {
  const near = at ?? lane.last ?? lanes.lastClock
  const instant = (typed: PlaceToken["arrive"], after: number | null): number | null =>
    typed?.clock == null ? null : lanes.instant({ ...lane, last: after }, typed.piece, typed.clock)
  const start = instant(arrive, near === null ? null : near - 6 * 60 * minuteMs)
  const end = instant(leave, start ?? near)
  if (leave?.clock != null && start !== null && end !== null && end < start)
    throw new Unreadable(leave.piece, "One leaves after one arrives.")
  return {
    ...(arrive === null ? {} : { start_at: start ?? unknownTime }),
    ...(leave === null ? {} : { end_at: end ?? unknownTime }),
  }
}

/** A stop lasts from its first stint's start to the last one's end, where nothing else was said. */
export function setStopTimes(stops: readonly DayStop[], stints: readonly DayStint[]): void {
  const byStop = Map.groupBy(stints, ({ stop }) => stop)
  for (const [index, stop] of stops.entries()) {
    const derived = stopTimes(byStop.get(index) ?? [])
    stop.start_at = stop.start_at === unknownTime ? null : (stop.start_at ?? derived.start_at)
    stop.end_at = stop.end_at === unknownTime ? null : (stop.end_at ?? derived.end_at)
    if (stop.start_at !== null && stop.end_at !== null && stop.end_at < stop.start_at) stop.end_at = null
  }
}

/** When a stop began and ended as its stints tell it; null where one of them does not. */
export function stopTimes(stints: readonly DayStint[]): { start_at: number | null; end_at: number | null } {
  const starts = stints.flatMap(({ start_at }) => start_at ?? [])
  const ends = stints.flatMap(({ end_at }) => end_at ?? [])
  return {
    start_at: starts.length === 0 ? null : Math.min(...starts),
    end_at: ends.length === 0 || ends.length < stints.length ? null : Math.max(...ends),
  }
}

import type { DayStint, DayTotals } from "../../shared/day.ts"

const minuteMs = 60_000

/** A stint's effort in rod-hours; null where it is not known. */
export function rodHours({ effort_minutes, start_at, end_at, break_minutes, rods }: DayStint): number | null {
  const span =
    start_at === null || end_at === null ? null : (end_at - start_at) / minuteMs - (break_minutes ?? 0)
  const minutes = effort_minutes ?? span
  return minutes === null ? null : (minutes / 60) * rods
}

/** A day in figures, as far as it is written down. */
export function dayTotals(stints: readonly DayStint[]): DayTotals {
  const hours = stints.map(rodHours)
  const strikes = stints.flatMap((stint) => stint.strikes)
  const known = hours.every((one) => one !== null)
  return {
    stints: stints.length,
    rod_hours: known && hours.length > 0 ? hours.reduce<number>((sum, one) => sum + (one ?? 0), 0) : null,
    landed: stints.length === 0 ? null : strikes.filter(({ fate }) => fate === "landed").length,
    strikes: stints.length === 0 ? null : strikes.length,
  }
}

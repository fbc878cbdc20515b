import { type Clock, type Day, type Moment, dayAfter, dayNumber, isoDay, utcOf } from "./dates.ts"
import { type Read, read, refused } from "./quantity.ts"
import { type RowZone, instantOf, localDay } from "./zone.ts"
import type { Assumed } from "./assumed.ts"

/** The cells of a row that say when and for how long, already read. `minutes` is clock time. */
export type TimeCells = {
  readonly date: Day | null
  readonly start: Moment | null
  readonly end: Moment | null
  readonly minutes: number | null
}
export type When = {
  readonly date: string
  readonly start_at: number | null
  readonly end_at: number | null
  readonly effort_minutes: number | null
  readonly effort_source: "clocked" | "given" | null
}
export type TimeField = "date" | "start" | "end" | "minutes"
type Misplaced = { readonly kind: "refused"; readonly field: TimeField; readonly reason: string }

const minuteMs = 60_000
const dayMs = 86_400_000
const longestMinutes = 1440
/** A clock time before the start is the next morning if that makes no more than this. */
const longestNightMs = 12 * 60 * minuteMs

const misplaced = (field: TimeField, reason: string): Misplaced => ({ kind: "refused", field, reason })

/**
 * Joins a row's date, start, end and minutes into instants (UTC ms), the local date of the start, and the effort. A
 * missing end follows from start and minutes, a missing start from end and minutes. Elapsed time is between instants,
 * so that a change of the clocks is neither fished nor lost.
 */
export function placeInTime(
  cells: TimeCells,
  zone: RowZone,
  now: number,
  assumed: Assumed,
): { kind: "read"; value: When } | Misplaced {
  const { minutes } = cells
  const startDay = cells.start?.day ?? cells.date ?? cells.end?.day ?? null
  if (startDay === null) return misplaced("date", "date is missing")
  if (cells.start?.day && cells.date) {
    const daysLater = dayNumber(cells.start.day) - dayNumber(cells.date)
    if (daysLater < -1 || daysLater > 1) return misplaced("start", `far from the date, ${isoDay(cells.date)}`)
  }
  const start = cells.start === null ? null : instantIn(cells.start, startDay, zone, assumed)
  if (start?.kind === "refused") return misplaced("start", start.reason)
  const end = placeEnd(cells, startDay, start?.value ?? null, zone, assumed)
  if (end.kind === "refused") return end

  let startAt = start?.value ?? null
  let endAt = end.value
  const elapsed = startAt === null || endAt === null ? null : (endAt - startAt) / minuteMs
  if (elapsed !== null && elapsed > longestMinutes)
    return misplaced("end", "more than 24 hours from start to end")
  if (elapsed !== null && minutes !== null && minutes > elapsed + 1) {
    return misplaced("minutes", `longer than from start to end (${Math.round(elapsed)} minutes)`)
  }
  if (minutes !== null && startAt === null && endAt !== null) startAt = endAt - Math.round(minutes * minuteMs)
  else if (minutes !== null && endAt === null && startAt !== null)
    endAt = startAt + Math.round(minutes * minuteMs)

  const date = localDateOf(cells, startDay, startAt, zone)
  if (dayNumber(date) * dayMs > now + dayMs) return misplaced(dateField(cells), "date lies in the future")
  const effort = minutes ?? elapsed
  return read({
    date: isoDay(date),
    start_at: startAt,
    end_at: endAt,
    effort_minutes: effort,
    effort_source: minutes !== null ? "given" : elapsed !== null ? "clocked" : null,
  })
}

const dateField = (cells: TimeCells): TimeField => (cells.date ? "date" : cells.start?.day ? "start" : "end")

/** A moment's instant; null where it is a day without a clock time. */
function instantIn(moment: Moment, day: Day, zone: RowZone, assumed: Assumed): Read<number | null> {
  if (moment.clock === null) return read(null)
  if (moment.offsetMinutes !== null) return read(utcOf(day, moment.clock) - moment.offsetMinutes * minuteMs)
  const found = instantOf(zone.zone, day, moment.clock)
  if (found.kind === "skipped") {
    return refused(
      `${clockText(moment.clock)} did not exist on ${isoDay(day)} in ${zone.zone}, where the clocks went forward over it`,
    )
  }
  if (found.kind === "twice") assumed.twice++
  return read(found.at)
}

const clockText = ({ hour, minute }: Clock): string =>
  `${String(hour).padStart(2, "0")}:${String(minute).padStart(2, "0")}`

function placeEnd(
  cells: TimeCells,
  startDay: Day,
  startAt: number | null,
  zone: RowZone,
  assumed: Assumed,
): { kind: "read"; value: number | null } | Misplaced {
  const { end } = cells
  if (end === null) return read(null)
  if (end.clock === null) {
    return cells.date === null && cells.start === null
      ? read(null)
      : misplaced("end", "a day without a clock time")
  }
  const onDay = instantIn(end, end.day ?? startDay, zone, assumed)
  if (onDay.kind === "refused") return misplaced("end", onDay.reason)
  const at = onDay.value
  if (at === null) return read(null)
  const isNextDay =
    end.day === null &&
    (startAt === null ? minutesOfDay(end.clock) < Math.round(cells.minutes ?? 0) : at < startAt)
  if (isNextDay) {
    const next = instantIn(end, dayAfter(startDay, 1), zone, assumed)
    if (next.kind === "refused") return misplaced("end", next.reason)
    if (next.value !== null && (startAt === null || next.value - startAt <= longestNightMs)) {
      assumed.pastMidnight++
      return read(next.value)
    }
  }
  if (startAt !== null && at <= startAt) return misplaced("end", "the end is not after the start")
  return read(at)
}

const minutesOfDay = ({ hour, minute, second }: Clock): number => hour * 60 + minute + second / 60

/** The local date on which the row's fishing began, as written where it is written. */
function localDateOf(cells: TimeCells, startDay: Day, startAt: number | null, zone: RowZone): Day {
  if (cells.date !== null) return cells.date
  const said = cells.start ?? cells.end
  const offset = said?.offsetMinutes ?? null
  if (startAt === null || (cells.start !== null && offset === null)) return startDay
  if (offset !== null && zone.from === "none") return localDay("UTC", startAt + offset * minuteMs)
  return localDay(zone.zone, startAt)
}

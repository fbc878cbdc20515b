import { type WallClock, wallClock } from "../conditions/localClock.ts"
import { type Day, dayAfter, isoDay } from "../exchange/read/dates.ts"
import { instantOf } from "../exchange/read/zone.ts"
import { type Piece, Unreadable } from "./piece.ts"

/** Where a day lies: its local date, its zone, and the trip's start where that is known (UTC ms). */
export type DayPlace = {
  readonly date: string
  readonly zone: string
  readonly start_at: number | null
}

/** A clock as typed. `whole`: it says by itself which half of the day; `again`: the second time round, when clocks go back. */
export type ClockText = {
  readonly date: string | null
  readonly hour: number
  readonly minute: number
  readonly second: number
  readonly whole: boolean
  readonly again: boolean
}

const clockForm = /^(?:(\d{4}-\d{2}-\d{2})\/)?(\d{1,2})(?::?(\d{2})(?::(\d{2}))?)?(?:([ap])m?)?(\*)?$/i
const digits = /^(?:\d{4}-\d{2}-\d{2}\/)?(\d+)/

/**
 * A clock: 620, 6:20, 6, 640p, 6:40a, 0620, 1425, 6:20:30, 2026-05-15/0620; a star at the end is the second time that the
 * clocks show it. Null where the text is no clock.
 */
export function readClock(text: string): ClockText | null {
  const found = clockForm.exec(text)
  if (found === null) return null
  const [, date, hours = "", minutes, seconds, half, again] = found
  const hour = Number(hours)
  const minute = Number(minutes ?? 0)
  const second = Number(seconds ?? 0)
  if (minute > 59 || second > 59) return null
  if (half !== undefined) {
    if (hour < 1 || hour > 12) return null
    const at = (hour % 12) + (half.toLowerCase() === "p" ? 12 : 0)
    return { date: date ?? null, hour: at, minute, second, whole: true, again: again !== undefined }
  }
  if (hour > 23) return null
  const zeroFirst = (digits.exec(text)?.[1] ?? "").startsWith("0")
  const whole = date !== undefined || hour > 12 || hour === 0 || zeroFirst
  return { date: date ?? null, hour, minute, second, whole, again: again !== undefined }
}

const hourMs = 3_600_000
/** A clock that does not say which half of the day is not taken to be further on than this. */
const longestStepMs = 8 * hourMs
/** Nor is one that does: a clock before the last one is a slip. */
const longestWholeStepMs = 12 * hourMs

type Candidate = { readonly at: number; readonly skipped: boolean }

/** The instants at which clocks show this on a local date: none where it is skipped, two where it comes twice. */
function instantsOn(clock: ClockText, hour: number, day: Day, zone: string): Candidate[] {
  const found = instantOf(zone, day, { hour, minute: clock.minute, second: clock.second })
  if (found.kind === "skipped") {
    const midnight = instantOf(zone, day, { hour: 0, minute: 0, second: 0 })
    const sinceMidnight = hour * hourMs + clock.minute * 60_000
    return [{ at: midnight.kind === "skipped" ? 0 : midnight.at + sinceMidnight, skipped: true }]
  }
  if (found.kind === "exact") return clock.again ? [] : [{ at: found.at, skipped: false }]
  const both = [found.at, found.again].map((at) => ({ at, skipped: false }))
  return clock.again ? both.slice(1) : both
}

const halves = ({ hour, whole }: ClockText): number[] => (whole ? [hour] : [hour % 12, (hour % 12) + 12])

function candidates(clock: ClockText, days: readonly Day[], zone: string): Candidate[] {
  return days
    .flatMap((day) => halves(clock).flatMap((hour) => instantsOn(clock, hour, day, zone)))
    .toSorted((a, b) => a.at - b.at)
}

const dayFrom = (date: string): Day => {
  const [year = 0, month = 0, day = 0] = date.split("-").map(Number)
  return { year, month, day }
}

/**
 * The instant a clock means: the next time that clocks show it, `after` being the clock before it (null: the first of the
 * day). Throws Unreadable for a time that does not exist that night, one before the last clock, and a step too long to be
 * taken for granted.
 */
export function instantAfter(piece: Piece, clock: ClockText, after: number | null, place: DayPlace): number {
  if (clock.date !== null) {
    const on = dayFrom(clock.date)
    if (isoDay(dayAfter(on, 0)) !== clock.date)
      throw new Unreadable(piece, `There is no ${clock.date} in the calendar.`)
    return existing(piece, candidates(clock, [on], place.zone)[0], clock, place)
  }
  if (after === null) return firstInstant(piece, clock, place)
  const today = dayFrom(wallClock(after, place.zone).date)
  const all = candidates(clock, [today, dayAfter(today, 1)], place.zone)
  const next = all.find(({ at }) => at >= after)
  const at = existing(piece, next, clock, place)
  if (at - after <= (clock.whole ? longestWholeStepMs : longestStepMs)) return at
  const before = clockWords(after, place.zone)
  const meant = clockText(at, null, place)
  throw new Unreadable(
    piece,
    clock.whole
      ? `${piece.text} is before the clock above it, ${before}. Write the lines in the order of time; a later day is named: ${meant}.`
      : `${piece.text} would be ${clockWords(at, place.zone)}, more than 8 hours after ${before}. Write the lines in the order of time; if it is meant, write it in full.`,
    [clock.whole ? meant : wholeText(wallClock(at, place.zone))],
  )
}

function firstInstant(piece: Piece, clock: ClockText, place: DayPlace): number {
  const day = dayFrom(place.date)
  if (place.start_at !== null && !clock.whole) return instantNear(piece, clock, place.start_at, place)
  const noonish = clock.whole || clock.hour > 3 ? clock.hour : clock.hour + 12
  return existing(piece, instantsOn(clock, noonish, day, place.zone)[0], clock, place)
}

/** The instant nearest to another at which clocks show this. Throws Unreadable for a time that does not exist. */
export function instantNear(piece: Piece, clock: ClockText, near: number, place: DayPlace): number {
  if (clock.date !== null) return instantAfter(piece, clock, null, place)
  const day = dayFrom(wallClock(near, place.zone).date)
  const all = candidates(clock, [dayAfter(day, -1), day, dayAfter(day, 1)], place.zone)
  const [nearest] = all.toSorted((a, b) => Math.abs(a.at - near) - Math.abs(b.at - near) || a.at - b.at)
  return existing(piece, nearest, clock, place)
}

function existing(piece: Piece, found: Candidate | undefined, clock: ClockText, place: DayPlace): number {
  if (found !== undefined && !found.skipped) return found.at
  const why = clock.again
    ? `Clocks in ${place.zone} do not show ${piece.text.slice(0, -1)} twice that night.`
    : `Clocks in ${place.zone} go forward over ${piece.text} that night: there was no such time.`
  throw new Unreadable(piece, why)
}

const two = (n: number): string => String(n).padStart(2, "0")

/** A clock in words, "6:20". */
export function clockWords(at: number, zone: string): string {
  const { hour, minute, second } = wallClock(at, zone)
  return `${hour}:${two(minute)}${second === 0 ? "" : `:${two(second)}`}`
}

/** A clock that says by itself which half of the day: 0620, 1425, 0620:30. */
function wholeText({ hour, minute, second }: WallClock): string {
  const text = second === 0 ? `${two(hour)}${two(minute)}` : `${two(hour)}:${two(minute)}:${two(second)}`
  return hour >= 10 && hour <= 12 ? `${halfText(hour, minute, second)}` : text
}

const halfText = (hour: number, minute: number, second: number): string =>
  `${hour}:${two(minute)}${second === 0 ? "" : `:${two(second)}`}${hour < 12 ? "a" : "p"}`

/** The shortest clock that, read after `after` (null: as the first of the day), means this instant. */
export function clockText(at: number, after: number | null, place: DayPlace): string {
  return shortest(at, place, (piece, clock) => instantAfter(piece, clock, after, place))
}

/** The shortest clock that `read` takes for this instant. */
export function shortest(
  at: number,
  place: DayPlace,
  read: (piece: Piece, clock: ClockText) => number,
): string {
  const shown = wallClock(at, place.zone)
  const { date, hour, minute, second } = shown
  const bare = second === 0 ? `${hour}${two(minute)}` : `${hour}:${two(minute)}:${two(second)}`
  const whole = wholeText(shown)
  const forms = [bare, whole, `${whole}*`, `${date}/${whole}`, `${date}/${whole}*`]
  return forms.find((form) => means(form, at, read)) ?? `${date}/${whole}`
}

function means(text: string, at: number, read: (piece: Piece, clock: ClockText) => number): boolean {
  const clock = readClock(text)
  if (clock === null) return false
  try {
    return read({ text, at: 0 }, clock) === at
  } catch (error) {
    if (error instanceof Unreadable) return false
    throw error
  }
}

/** Minutes as a stretch of time on the tape: 45m, 1h30, 45min. Null where the text is none. */
export function readMinutes(text: string): number | null {
  const found = /^(?:(\d+(?:\.\d+)?)m(?:in)?|(\d+)h(?:(\d{1,2})m?)?)$/i.exec(text)
  if (found === null) return null
  const [, minutes, hours, beside] = found
  return minutes === undefined ? Number(hours) * 60 + Number(beside ?? 0) : Number(minutes)
}

export const minutesText = (minutes: number): string => `${Number(minutes.toFixed(6))}m`

import { type Read, read, refused } from "./quantity.ts"

export type Day = { readonly year: number; readonly month: number; readonly day: number }
export type Clock = { readonly hour: number; readonly minute: number; readonly second: number }
/** What a cell says of a time: a day, a clock time, both, and how far the clock is ahead of UTC where it says that. */
export type Moment = {
  readonly day: Day | null
  readonly clock: Clock | null
  readonly offsetMinutes: number | null
}

/** Which of two numbers before the year is the day. */
export type DayOrder = "dmy" | "mdy"
/** What a table's dates prove: an order, nothing, or two orders at once. */
export type OrderProof = { readonly order: DayOrder | "both" | null; readonly proof: string | null }

const earliestYear = 1900
const months = "jan feb mar apr may jun jul aug sep oct nov dec".split(" ")
const monthNames = [
  "January",
  "February",
  "March",
  "April",
  "May",
  "June",
  "July",
  "August",
  "September",
  "October",
  "November",
  "December",
]

const clockAtEnd =
  /^(.*?)(?:[T\s,]+|^)(\d{1,2}(?::\d{2}){1,2}(?:[.,]\d+)?\s*(?:[ap]\.?\s?m\b\.?)?|\d{1,2}\s*[ap]\.?\s?m\b\.?)\s*(z|utc|[+-]\d{2}(?::?\d{2})?)?(?:\[[^\]]*\])?$/i
const clockParts = /^(\d{1,2})(?::(\d{2}))?(?::(\d{2})(?:[.,]\d+)?)?\s*(?:([ap])\.?\s?m\.?)?$/i
const yearFirst = /^(\d{4})[-/.\s](\d{1,2})[-/.\s](\d{1,2})$|^(\d{4})(\d{2})(\d{2})$/
const yearLast = /^(\d{1,2})([-/.\s])(\d{1,2})\2(\d{4}|\d{2})\.?$/

/**
 * Reads a date, a clock time, or both: ISO 8601, `6.5.2014` (the day first), `5/6/2014` by `order`, dates with the month
 * in letters, 12-hour and 24-hour clocks. Refuses days, months and times that do not exist and years before 1900.
 */
export function readMoment(text: string, order: OrderProof, thisYear: number): Read<Moment> {
  const given = text.trim()
  const military = /^([01]\d|2[0-3])([0-5]\d)$/.exec(given)
  if (military !== null)
    return read({ day: null, clock: clockOf(military[1], military[2]), offsetMinutes: null })
  const split = clockAtEnd.exec(given)
  const clock = split?.[2] === undefined ? null : readClock(split[2])
  if (clock?.kind === "refused") return clock
  const dayText = (split === null ? given : (split[1] ?? "")).trim()
  const day = dayText === "" ? null : readDay(dayText, order, thisYear)
  if (day?.kind === "refused") return day
  return read({
    day: day?.value ?? null,
    clock: clock?.value ?? null,
    offsetMinutes: split?.[3] === undefined ? null : offsetOf(split[3]),
  })
}

const clockOf = (hour: string | undefined, minute: string | undefined): Clock => ({
  hour: Number(hour),
  minute: Number(minute),
  second: 0,
})

function readClock(text: string): Read<Clock> {
  const found = clockParts.exec(text.trim())
  if (found === null) return refused(`not a time: ${text}`)
  const [, hours, minutes, seconds, half] = found
  const hour = Number(hours)
  const minute = Number(minutes ?? 0)
  const second = Number(seconds ?? 0)
  const noSuchHour = half === undefined ? hour > 23 : hour < 1 || hour > 12
  if (noSuchHour || minute > 59 || second > 59) return refused(`no such time: ${text}`)
  if (half === undefined) return read({ hour, minute, second })
  return read({ hour: (hour % 12) + (half.toLowerCase() === "p" ? 12 : 0), minute, second })
}

function offsetOf(text: string): number {
  const found = /^([+-])(\d{2}):?(\d{2})?$/.exec(text)
  if (found === null) return 0
  const size = Number(found[2]) * 60 + Number(found[3] ?? 0)
  return found[1] === "-" ? -size : size
}

function readDay(text: string, order: OrderProof, thisYear: number): Read<Day> {
  const first = yearFirst.exec(text)
  if (first !== null) return dayOf(first[1] ?? first[4], first[2] ?? first[5], first[3] ?? first[6], thisYear)
  const last = yearLast.exec(text)
  if (last !== null) return readYearLast(text, last, order, thisYear)
  return readNamedMonth(text, thisYear)
}

function readYearLast(text: string, found: RegExpExecArray, order: OrderProof, thisYear: number): Read<Day> {
  const [, a, mark, b, year] = found
  const dayFirst = (): Read<Day> => dayOf(year, b, a, thisYear)
  const monthFirst = (): Read<Day> => dayOf(year, a, b, thisYear)
  if (mark === ".") return dayFirst()
  if (order.order === "dmy") return dayFirst()
  if (order.order === "mdy" || Number(a) === Number(b)) return monthFirst()
  const own = ownOrder(Number(a), Number(b))
  if (own === "dmy") return dayFirst()
  if (own === "mdy") return monthFirst()
  if (Number(a) > 12) return monthFirst()
  const why = order.order === "both" ? "other dates here have it both ways" : "no date here shows which"
  return refused(
    `"${text}" may be ${Number(a)} ${monthNames[Number(b) - 1]} or ${Number(b)} ${monthNames[Number(a) - 1]}, and ${why}; ` +
      `write it as ${year}-MM-DD, or say the order with --map "<column>=date:dmy" or "<column>=date:mdy"`,
  )
}

function readNamedMonth(text: string, thisYear: number): Read<Day> {
  const parts = text
    .replace(/^(mon|tue|wed|thu|fri|sat|sun)[a-z]*[.,]?\s+/i, "")
    .split(/[\s,.\-/]+/)
    .filter((part) => part !== "")
  const month = parts.findIndex((part) => monthOf(part) > 0)
  const numbers = parts
    .filter((_, at) => at !== month)
    .map((part) => /^(\d{1,4})(?:st|nd|rd|th)?$/i.exec(part)?.[1])
  const [a, b] = numbers
  if (month < 0 || parts.length !== 3 || a === undefined || b === undefined) return refused(notDate(text))
  const year = a.length === 4 ? a : b
  return dayOf(year, String(monthOf(parts[month] ?? "")), year === a ? b : a, thisYear)
}

const totalsWord = /^(?:grand |sub)?-?(?:totals?|sums?|averages?|means?)\b/i
/** Whether a date cell belongs to a row of sums. */
export const isTotals = (text: string): boolean => totalsWord.test(text.trim())

const notDate = (text: string): string =>
  isTotals(text) ? `"${text}" is not a date (a totals row is not a trip)` : `"${text}" is not a date`

/** 1 to 12 for an English name of a month or its first letters, else 0. */
const monthOf = (word: string): number =>
  /^[a-z]{3,9}$/i.test(word)
    ? monthNames.findIndex(
        (name, at) =>
          name.toLowerCase() === word.toLowerCase() ||
          months[at] === word.toLowerCase() ||
          (at === 8 && /^sept$/i.test(word)),
      ) + 1
    : 0

function dayOf(
  yearText: string | undefined,
  monthText: string | undefined,
  dayText: string | undefined,
  thisYear: number,
): Read<Day> {
  const month = Number(monthText)
  const day = Number(dayText)
  const year = yearText?.length === 2 ? fullYear(Number(yearText), thisYear) : Number(yearText)
  if (month < 1 || month > 12) return refused(`no such month: ${monthText}`)
  if (day < 1 || day > daysIn(year, month)) return refused(`no such day: ${day} ${monthNames[month - 1]}`)
  if (year < earliestYear) return refused(`a year before ${earliestYear}: ${yearText}`)
  return read({ year, month, day })
}

/** Two digits mean the century that puts the date at most one year ahead. */
const fullYear = (short: number, thisYear: number): number => {
  const century = Math.floor(thisYear / 100) * 100
  return century + short > thisYear + 1 ? century - 100 + short : century + short
}

const daysIn = (year: number, month: number): number => new Date(Date.UTC(year, month, 0)).getUTCDate()

/** The order that a date with the year last proves by itself, null where it could be either. */
const ownOrder = (a: number, b: number): DayOrder | null =>
  a > 12 && b <= 12 ? "dmy" : b > 12 && a <= 12 ? "mdy" : null

/** Gathers, date by date, which order of day and month a table uses. */
export class OrderEvidence {
  #order: DayOrder | "both" | null = null
  #proof: string | null = null
  /** Dates whose year has two digits. */
  shortYears = 0

  saw(text: string): void {
    const day = (clockAtEnd.exec(text.trim())?.[1] ?? text).trim()
    const found = yearLast.exec(day)
    if (found === null) return
    if (found[4]?.length === 2) this.shortYears++
    if (found[2] === ".") return
    const own = ownOrder(Number(found[1]), Number(found[3]))
    if (own === null || own === this.#order || this.#order === "both") return
    this.#proof ??= day
    this.#order = this.#order === null ? own : "both"
  }

  result(): OrderProof {
    return { order: this.#order, proof: this.#proof }
  }
}

export const isoDay = (day: Day): string =>
  `${day.year}-${String(day.month).padStart(2, "0")}-${String(day.day).padStart(2, "0")}`

/** Days since 1970-01-01. */
export const dayNumber = (day: Day): number => Date.UTC(day.year, day.month - 1, day.day) / 86_400_000

export const dayAfter = (day: Day, days: number): Day => {
  const moved = new Date((dayNumber(day) + days) * 86_400_000)
  return { year: moved.getUTCFullYear(), month: moved.getUTCMonth() + 1, day: moved.getUTCDate() }
}

/** The instant (ms) at which clocks in UTC show this date and time. */
export const utcOf = (day: Day, { hour, minute, second }: Clock): number =>
  dayNumber(day) * 86_400_000 + ((hour * 60 + minute) * 60 + second) * 1000

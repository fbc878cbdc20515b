import { Temporal } from "temporal-polyfill"
import type { TripLine } from "../../shared/tripActs.ts"
import { listed } from "../../shared/figures.ts"
import { clockWords, type DayPlace, instantAfter, readClock } from "../tape/clock.ts"
import { type Names, named } from "../tape/names.ts"
import { type Piece, tokens, Unreadable } from "../tape/piece.ts"

/** What a line of a new trip is read with. */
export type TripLineContext = {
  readonly names: Names
  readonly now: number
  readonly home_zone: string | null
  readonly zoneOfSpot: (spot: string) => string | null
}

const weekdays = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]

/**
 * A new trip in one line: "yesterday 620 md nel tob rd". A day (today where none is said; "last"
 * before a weekday is never today), a start, and codes in any order: a spot, anglers, the target species. Never throws on what a user may type.
 */
export function readTripLine(line: string, context: TripLineContext): TripLine {
  const words = tokens({ text: line, at: 0 })
  const read: TripLine = {
    date: "",
    zone: "",
    start_at: null,
    spot: null,
    anglers: [],
    target: null,
    said: "",
    unclear: null,
  }
  let day: Piece | null = null
  let last = false
  let start: Piece | null = null
  try {
    for (const [i, word] of words.entries()) {
      if (isLast(words, i, context.names)) continue
      if (isDay(word.text, context.names)) {
        if (day !== null) throw new Unreadable(word, "Another day was said before.")
        day = word
        last = i > 0 && isLast(words, i - 1, context.names)
      } else if (readClock(word.text) !== null) {
        if (start !== null) throw new Unreadable(word, "Another start was said before.")
        start = word
      } else place(word, read, context.names)
    }
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error
    const { from, sentence } = error.unclear
    const isCode = words.some(({ text, at }) => at === from && context.names.find(text) !== null)
    const mayBeDay = !isCode && !words.some(({ text }) => isDay(text, context.names))
    read.unclear = { ...error.unclear, sentence: mayBeDay ? `${sentence} ${dayHelp}` : sentence }
  }
  const ofSpot = read.spot === null ? null : context.zoneOfSpot(read.spot)
  const zone = ofSpot ?? context.home_zone ?? "UTC"
  const today = Temporal.Instant.fromEpochMilliseconds(context.now).toZonedDateTimeISO(zone).toPlainDate()
  try {
    read.zone = zone
    read.date = (day === null ? today : dateOf(day, today, last)).toString()
    if (start !== null) read.start_at = startOf(start, { date: read.date, zone, start_at: null })
  } catch (error) {
    if (!(error instanceof Unreadable)) throw error
    read.date ||= today.toString()
    read.unclear ??= error.unclear
  }
  const assumed = ofSpot === null && context.home_zone === null
  return { ...read, said: sayTrip(read, today, assumed, context.names) }
}

function place(word: Piece, read: TripLine, names: Names): void {
  const thing = named(word, ["spot", "angler", "species"], names)
  if (thing.kind === "angler") {
    if (!read.anglers.includes(thing.id)) read.anglers.push(thing.id)
    return
  }
  const before = thing.kind === "spot" ? read.spot : read.target
  if (before !== null)
    throw new Unreadable(
      word,
      `Another ${thing.kind === "spot" ? "spot" : "target"} was said before: ${names.nameOf(before)}.`,
    )
  if (thing.kind === "spot") read.spot = thing.id
  else read.target = thing.id
}

const isWeekday = (text: string, names: Names): boolean =>
  text.length >= 3 && weekdays.some((day) => day.startsWith(text.toLowerCase())) && names.find(text) === null

/** A date, a word for one, or a weekday by three letters or more, unless these are a code. */
const isDay = (text: string, names: Names): boolean =>
  /^(?:today|yesterday|tomorrow|\d{4}-\d{1,2}-\d{1,2}|-\d{1,3})$/i.test(text) || isWeekday(text, names)

/** "last" before a weekday, unless it is a code. */
const isLast = (words: readonly Piece[], at: number, names: Names): boolean =>
  words[at]?.text.toLowerCase() === "last" &&
  names.find("last") === null &&
  isWeekday(words[at + 1]?.text ?? "", names)

const dayHelp = "A day is yesterday, friday, -7 (days ago) or a date, 2026-11-21."

/** The date a word means; `last`: of a weekday, the one before today. */
function dateOf(word: Piece, today: Temporal.PlainDate, last: boolean): Temporal.PlainDate {
  const text = word.text.toLowerCase()
  if (text === "today") return today
  if (text === "yesterday") return today.subtract({ days: 1 })
  if (text === "tomorrow") return today.add({ days: 1 })
  if (/^-\d+$/.test(text)) return today.subtract({ days: Number(text.slice(1)) })
  const weekday = weekdays.findIndex((day) => day.startsWith(text)) + 1
  const ago = (today.dayOfWeek - weekday + 7) % 7
  if (weekday > 0) return today.subtract({ days: last && ago === 0 ? 7 : ago })
  const [year = 0, month = 0, day = 0] = text.split("-").map(Number)
  try {
    return Temporal.PlainDate.from({ year, month, day }, { overflow: "reject" })
  } catch (error) {
    if (error instanceof RangeError) throw new Unreadable(word, `There is no ${word.text} in the calendar.`)
    throw error
  }
}

function startOf(word: Piece, place: DayPlace): number | null {
  const clock = readClock(word.text)
  return clock === null ? null : instantAfter(word, clock, null, place)
}

function sayTrip(read: TripLine, today: Temporal.PlainDate, assumed: boolean, names: Names): string {
  const date = Temporal.PlainDate.from(read.date)
  const away = today.until(date).days
  const near = away === 0 ? ", today" : away === -1 ? ", yesterday" : away === 1 ? ", tomorrow" : ""
  const weekday = weekdays[date.dayOfWeek - 1] ?? ""
  return [
    `${weekday.slice(0, 1).toUpperCase()}${weekday.slice(1)} ${read.date}${near}`,
    ...(read.start_at === null ? [] : [`from ${clockWords(read.start_at, read.zone)}`]),
    ...(read.spot === null ? [] : [`at ${names.nameOf(read.spot)}`]),
    ...(read.anglers.length === 0
      ? []
      : [
          listed(
            read.anglers.map((id) => names.nameOf(id)),
            10,
          ),
        ]),
    ...(read.target === null ? [] : [`after ${names.nameOf(read.target)}`]),
    ...(assumed ? ["clocks in UTC, until the settings say your home zone"] : [`clocks of ${read.zone}`]),
  ].join(", ")
}

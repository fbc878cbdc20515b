import { Temporal } from "temporal-polyfill"
import { ProblemError } from "../../shared/problems.ts"

/**
 * The local clock hour at an instant, as hours with fraction from 0 to below 24. `at` in UTC milliseconds; `zone` an
 * IANA name. On days with a clock change the hour is what a watch on the spot shows. Throws RangeError for an unknown
 * zone.
 */
export function localHour(at: number, zone: string): number {
  const sinceMidnight = (at + aheadOfUtc(at, zone)) % dayMs
  return (sinceMidnight < 0 ? sinceMidnight + dayMs : sinceMidnight) / hourMs
}

/** What a clock on the spot shows at an instant (UTC ms): the local date and the time. */
export function wallClock(at: number, zone: string): WallClock {
  const shown = new Date(at + aheadOfUtc(at, zone))
  return {
    date: shown.toISOString().slice(0, 10),
    hour: shown.getUTCHours(),
    minute: shown.getUTCMinutes(),
    second: shown.getUTCSeconds(),
  }
}
export type WallClock = {
  readonly date: string
  readonly hour: number
  readonly minute: number
  readonly second: number
}

const hourMs = 3_600_000
const dayMs = 24 * hourMs

/** A stretch of time between two clock changes of a zone, and how far its clocks are then ahead of UTC, ms. */
type Setting = Span & { readonly ahead: number }

/** Settings found so far, by zone. */
const settings = new Map<string, Setting[]>()

/** How far a zone's clocks are ahead of UTC at an instant, ms. Asking the zone itself takes longer than a tide. */
function aheadOfUtc(at: number, zone: string): number {
  const known = settings.get(zone) ?? []
  const found = known.find(({ start, end }) => start <= at && at < end)
  if (found !== undefined) return found.ahead
  const asked = settingAt(at, zone)
  settings.set(zone, [...known, asked])
  return asked.ahead
}

function settingAt(at: number, zone: string): Setting {
  const time = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone)
  // A change counts as previous where it is earlier, so it is asked for from a moment later: it may be at this very instant.
  const last = time.add({ nanoseconds: 1 }).getTimeZoneTransition("previous")
  const next = time.getTimeZoneTransition("next")
  return {
    start: last?.epochMilliseconds ?? -Infinity,
    end: next?.epochMilliseconds ?? Infinity,
    ahead: time.offsetNanoseconds / 1e6,
  }
}

/** The local date (YYYY-MM-DD) at an instant in UTC ms. Throws RangeError for an unknown zone. */
export const localDate = (at: number, zone: string): string =>
  Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone).toPlainDate().toString()

/** A stretch of time in UTC ms: `start` belongs to it, `end` does not. */
export type Span = { readonly start: number; readonly end: number }

/**
 * The civil day `date` (YYYY-MM-DD) in an IANA zone, from its first instant to that of the next: 23, 24 or 25 hours, as
 * the clocks have it. Throws ProblemError "bad_input" for what is no date and for a day that the zone left out when it
 * moved across the date line; RangeError for an unknown zone.
 */
export function localDay(date: string, zone: string): Span {
  const day = plainDate(date)
  const start = day.toZonedDateTime(zone).epochMilliseconds
  const end = day.add({ days: 1 }).toZonedDateTime(zone).epochMilliseconds
  if (end <= start)
    throw new ProblemError(
      "bad_input",
      `There was no ${date} in ${zone}: its calendar left that day out. Take the day before or after.`,
      { date, zone },
    )
  return { start, end }
}

function plainDate(date: string): Temporal.PlainDate {
  try {
    if (/^\d{4}-\d{2}-\d{2}$/.test(date)) return Temporal.PlainDate.from(date, { overflow: "reject" })
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
  }
  throw new ProblemError("bad_input", `${date} is not a date. Write it as year-month-day, like 2026-05-15.`, {
    date,
  })
}

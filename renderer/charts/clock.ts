/** Words stay English; order of day and month and the clock are those of the user's region, of Britain where it is not English. */
const region = navigator.languages.find((language) => language.startsWith("en")) ?? "en-GB"

/** Clock times of one zone. Instants in UTC ms. */
export type Clock = {
  /** `6:20 AM` or `06:20`. */
  readonly time: (at: number) => string
  /** `6:20 – 7:05 AM`. */
  readonly range: (from: number, to: number) => string
  /** `6 AM` or `06`. */
  readonly hour: (at: number) => string
  /** Whole hours of the clock within a stretch, in time, with their number from 0 to 23. */
  readonly hours: (from: number, to: number) => { readonly at: number; readonly hour: number }[]
}

const minuteMs = 60_000
const quarterMs = 15 * minuteMs
/** A clock shows the minute that has begun; a high water at 10:59:50 is told as 11:00. */
const toMinute = (at: number): number => Math.round(at / minuteMs) * minuteMs
const clocks = new Map<string, Clock>()

/** The clock of a zone, by its IANA name. */
export function clockIn(zone: string): Clock {
  const known = clocks.get(zone)
  if (known !== undefined) return known
  const made = makeClock(zone)
  clocks.set(zone, made)
  return made
}

function makeClock(timeZone: string): Clock {
  const time = new Intl.DateTimeFormat(region, { timeStyle: "short", timeZone })
  const hour = new Intl.DateTimeFormat(region, { hour: "numeric", timeZone })
  const parts = new Intl.DateTimeFormat("en-GB", {
    hour: "2-digit",
    minute: "2-digit",
    hourCycle: "h23",
    timeZone,
  })
  return {
    time: (at) => time.format(toMinute(at)),
    range: (from, to) => time.formatRange(toMinute(from), toMinute(to)),
    hour: (at) => hour.format(at),
    // Every zone's offset of today is a whole number of quarter hours.
    hours: (from, to) => {
      const first = Math.ceil(from / quarterMs) * quarterMs
      const count = Math.max(0, Math.floor((to - first) / quarterMs) + 1)
      return Array.from({ length: count }, (_, i) => first + i * quarterMs).flatMap((at) => {
        const [hours, minutes] = parts.format(at).split(":")
        return minutes === "00" ? [{ at, hour: Number(hours) }] : []
      })
    },
  }
}

const longDay = new Intl.DateTimeFormat(region, {
  weekday: "long",
  day: "numeric",
  month: "long",
  year: "numeric",
  timeZone: "UTC",
})
const shortDay = new Intl.DateTimeFormat(region, {
  weekday: "short",
  day: "numeric",
  month: "short",
  timeZone: "UTC",
})

/** A date written YYYY-MM-DD with its weekday, in full, or short and without its year. */
export const dayLong = (date: string): string => longDay.format(new Date(date))
export const dayShort = (date: string): string => shortDay.format(new Date(date))

/** The names of the months. `width` as letters or words. */
export function monthNames(width: "narrow" | "long"): string[] {
  const month = new Intl.DateTimeFormat(region, { month: width, timeZone: "UTC" })
  return Array.from({ length: 12 }, (_, i) => month.format(Date.UTC(2000, i)))
}

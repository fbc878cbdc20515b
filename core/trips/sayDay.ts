import { quantityFigure, readerUnit, type ReaderUnits } from "../../shared/readerUnits.ts"
import type { DayStrip } from "../../shared/trips.ts"
import { units } from "../../shared/units.ts"
import { localDate, localHour } from "../conditions/localClock.ts"
import type { TripDay } from "./tripDay.ts"

const minuteMs = 60_000

/** The day in words: tide, light, then each stint in time with what was landed. Times are the zone's, to the minute. */
export function sayDay(strip: Omit<DayStrip, "said">, trip: TripDay, reader: ReaderUnits): string {
  const clock = clockIn(strip.zone, strip.date)
  const stints = strip.stints.toSorted((a, b) => a.from - b.from || a.lane - b.lane)
  const unclocked = trip.stints.length - strip.stints.length
  return [
    sayTide(strip.tide, clock, reader),
    sayLight(strip.light, clock),
    ...stints.map(
      ({ from, to, spot, presentation, lure_class, landed }) =>
        `${clock(from)} to ${clock(to)}${spot === null ? "" : ` at ${spot}`}` +
        `${withWhat(presentation ?? lure_class)}: ${sayLanded(landed)}.`,
    ),
    unclocked === 0
      ? ""
      : `${unclocked === 1 ? "1 stint" : `${unclocked} stints`} without a clock are not shown.`,
  ]
    .filter((sentence) => sentence !== "")
    .join(" ")
}

const withWhat = (lure: string | null): string => (lure === null ? "" : ` with ${lure}`)

const sayLanded = (landed: number | null): string =>
  landed === null ? "landed fish not counted" : landed === 0 ? "nothing landed" : `${landed} landed`

type Clock = (at: number) => string

/** Clock times as 9:06; one of another date than the trip's says its own. */
const clockIn =
  (zone: string, date: string): Clock =>
  (at) => {
    const whole = Math.round(at / minuteMs) * minuteMs
    const minutes = Math.round(localHour(whole, zone) * 60)
    const time = `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`
    const day = localDate(whole, zone)
    return day === date ? time : `${time} on ${day}`
  }

function sayTide(tide: DayStrip["tide"], clock: Clock, reader: ReaderUnits): string {
  if (tide === null) return ""
  const symbol = units[readerUnit("m", reader)].symbol
  const waters = tide.waters.map(
    ({ kind, at, height_m }) =>
      `${kind} ${clock(at)} (${quantityFigure(height_m, "m", reader, 1)} ${symbol})`,
  )
  const told = waters.length === 0 ? "no high or low water in this time" : waters.join(", ")
  return `Tide predicted at ${tide.station}: ${told}.`
}

function sayLight(bands: DayStrip["light"], clock: Clock): string {
  const told = bands.map(({ word, from, to }) => `${word} ${clock(from)} to ${clock(to)}`)
  return told.length === 0 ? "" : `Light: ${told.join(", ")}.`
}

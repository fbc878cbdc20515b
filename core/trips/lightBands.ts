import type { DayStrip } from "../../shared/trips.ts"
import { lightUnder } from "../conditions/light.ts"
import { localDate, type Span } from "../conditions/localClock.ts"
import type { Place } from "../conditions/place.ts"
import { sunPosition } from "../conditions/sun.ts"
import { sunDay, type SunDay } from "../conditions/sunDay.ts"

type Band = DayStrip["light"][number]

/**
 * From the day's first light to its last: civil dawn to civil dusk. Where the sun does not sink below civil twilight the
 * day's own end stands in; null where there is no light at all that day.
 */
export function litSpan({ civil_dawn, civil_dusk, polar }: SunDay, day: Span): Span | null {
  if (civil_dawn === null && civil_dusk === null) return polar === "night" ? null : day
  const start = civil_dawn ?? day.start
  return { start, end: civil_dusk === null || civil_dusk < start ? day.end : civil_dusk }
}

/** Bands of light without a gap over a span, by the words of `lightUnder`, parted where the sun's days say. */
export function lightBands(
  { start, end }: Span,
  zone: string,
  place: Place,
  sunOf: typeof sunDay = sunDay,
): Band[] {
  const dates = new Set([localDate(start, zone), localDate(end, zone)])
  const turns = [...dates].flatMap((date) => {
    const { civil_dawn, rise, set, civil_dusk } = sunOf(date, zone, place)
    return [civil_dawn, rise, set, civil_dusk].filter((at) => at !== null)
  })
  const edges = [start, ...turns.filter((at) => at > start && at < end).toSorted((a, b) => a - b), end]
  const bands: Band[] = []
  for (const [i, to] of edges.slice(1).entries()) {
    const from = edges[i] ?? start
    const word = lightUnder(sunPosition((from + to) / 2, place))
    const last = bands.at(-1)
    if (last?.word === word) last.to = to
    else bands.push({ from, to, word })
  }
  return bands
}

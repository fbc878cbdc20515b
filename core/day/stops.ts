import { newStop } from "../tape/newStop.ts"
import type { TapeDay } from "../tape/reader.ts"

/** Puts a stop of which only the spot is known into a day. Returns its place in the day. */
export function addStop(day: TapeDay, spot_id: string | null): number {
  return day.stops.push(newStop(spot_id)) - 1
}

/** Takes out stops that nothing is at any more. */
export function tidyStops(day: TapeDay): void {
  const used = new Set([
    ...day.stints.map(({ stop }) => stop),
    ...day.readings.flatMap(({ stop }) => stop ?? []),
  ])
  const kept = day.stops.flatMap((_, i) => (used.has(i) ? [i] : []))
  const place = new Map(kept.map((stop, i) => [stop, i]))
  day.stops.splice(0, day.stops.length, ...kept.flatMap((i) => day.stops[i] ?? []))
  for (const stint of day.stints) stint.stop = place.get(stint.stop) ?? 0
  for (const reading of day.readings)
    reading.stop = reading.stop === null ? null : (place.get(reading.stop) ?? null)
}

import type { DayReading, DayStint } from "../../shared/day.ts"
import type { PrintLine } from "./printLines.ts"
import type { TapeDay } from "./reader.ts"

/** Readings before the first line, and before and after lines, by the lines' places. */
export type PlacedReadings = {
  readonly top: DayReading[]
  readonly before: Map<number, DayReading[]>
  readonly after: Map<number, DayReading[]>
}

/** Where readings stand: right before the line that gives them clock and place, else behind one, with a clock of their own. */
export function placedReadings(day: TapeDay, lines: readonly PrintLine[]): PlacedReadings {
  const top: DayReading[] = []
  const before = new Map<number, DayReading[]>()
  const after = new Map<number, DayReading[]>()
  const put = (map: Map<number, DayReading[]>, at: number, reading: DayReading) =>
    map.set(at, [...(map.get(at) ?? []), reading])
  for (const reading of day.readings) {
    const { at, stop, stint } = reading
    const starts = lines.map(({ stints }) => stints[0])
    if (stint === null && stop !== null && !starts.some((line) => line?.stop === stop)) continue
    if (stint !== null) {
      const line = lines.findIndex(({ first, stints }) => stint >= first && stint < first + stints.length)
      if (starts[line]?.start_at === at) put(before, line, reading)
      else put(after, line, reading)
      continue
    }
    const here = (line: DayStint | undefined): boolean => stop === null || line?.stop === stop
    const same = at === null ? -1 : starts.findIndex((line) => line?.start_at === at && here(line))
    if (same >= 0) {
      put(before, same, reading)
      continue
    }
    const fits = starts.flatMap((line, i) => (here(line) ? [{ line, i }] : []))
    const past = fits.filter(
      ({ line }) => at !== null && line !== undefined && (line.start_at ?? Infinity) <= at,
    )
    const chosen = past.at(-1) ?? (stop === null ? undefined : fits[0])
    if (chosen === undefined) top.push(reading)
    else put(after, chosen.i, reading)
  }
  return { top, before, after }
}

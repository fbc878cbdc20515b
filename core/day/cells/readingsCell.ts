import type { DayReading } from "../../../shared/day.ts"
import { instantAfter, readClock } from "../../tape/clock.ts"
import { type Piece, splitAt, tokens } from "../../tape/piece.ts"
import { readReading } from "../../tape/readings.ts"
import { readingsOfRow } from "./cellText.ts"
import type { DayRows } from "../rows.ts"

/** Reads readings, each behind an @, in place of those that the row shows. Throws Unreadable. */
export function setReadings(rows: DayRows, at: number, piece: Piece): void {
  const stint = rows.row(at)
  const { reader, place } = rows.context
  const old = new Set(readingsOfRow(rows.day, at))
  const items =
    piece.text === ""
      ? []
      : splitAt(piece, (letter) => letter === "@").filter(({ text }) => text.trim() !== "")
  const readings: DayReading[] = items.map((item) => {
    const words = tokens(item)
    const [first] = words
    const clock = first === undefined ? null : readClock(first.text)
    const untimed = first?.text === "?"
    const said = readReading(clock !== null || untimed ? words.slice(1) : words, reader)
    return {
      id: null,
      at:
        clock !== null && first !== undefined
          ? instantAfter(first, clock, stint.start_at, place)
          : untimed
            ? null
            : stint.start_at,
      stop: said.of === "trip" || said.of === "stint" ? null : stint.stop,
      stint: said.of === "stint" ? at : null,
      source: said.source,
      ...said.values,
    }
  })
  const kept = rows.day.readings.filter((reading) => !old.has(reading))
  rows.day.readings.splice(0, rows.day.readings.length, ...kept, ...readings)
}

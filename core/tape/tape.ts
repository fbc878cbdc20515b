import type { TapeLine } from "../../shared/day.ts"
import { canonicalDay } from "./canonical.ts"
import type { TapeContext } from "./context.ts"
import { type LineRead, type TapeDay, TapeReader } from "./reader.ts"
import { sayLine } from "./say.ts"

/** A whole tape, read: the day it tells, and each of its lines. */
export function readTape(text: string, context: TapeContext): { day: TapeDay; lines: LineRead[] } {
  const { day, lines } = readLines(linesIn(text), context)
  return { day: canonicalDay(day), lines }
}

/** The same with each line's reading in words: of a line that is not clear, up to where it is. */
export function tellTape(text: string, context: TapeContext): { day: TapeDay; lines: TapeLine[] } {
  const typed = linesIn(text)
  const { day, lines } = readLines(typed, context)
  const clear = lines.some(({ unclear }) => unclear !== null)
    ? readLines(
        lines.map(({ text: line, unclear }) =>
          unclear === null ? line : line.slice(0, unclear.from).trimEnd(),
        ),
        context,
      )
    : null
  return {
    day: canonicalDay(day),
    lines: lines.map((line, i) => {
      const told = line.unclear === null ? line : clear?.lines[i]
      const from = line.unclear === null ? day : (clear?.day ?? day)
      const readings = (told?.of ?? []).flatMap((at) => from.readings[at] ?? [])
      return {
        text: line.text,
        said: told === undefined ? "" : sayLine(told, from, readings, context),
        unclear: line.unclear,
      }
    }),
  }
}

const linesIn = (text: string): string[] =>
  text === "" ? [] : text.split("\n").map((line) => line.replace(/\r$/, ""))

function readLines(lines: readonly string[], context: TapeContext): { day: TapeDay; lines: LineRead[] } {
  const reader = new TapeReader(context)
  const read = lines.map((line) => reader.readLine(line))
  return { day: reader.finish(), lines: read }
}

import { readMinutes, type DayPlace } from "./clock.ts"
import type { TapeContext } from "./context.ts"
import { type More, nothingMore, readMore } from "./more.ts"
import { named } from "./names.ts"
import { type Piece, splitAt, unescaped, Unreadable } from "./piece.ts"
import { isPresentation, type Part, readPart } from "./presentation.ts"
import { isPlace, type PlaceToken, readPlace } from "./stop.ts"
import { type Came, type CameContext, nothingCame } from "./came.ts"
import { readCameToken } from "./strikes.ts"

/** The parts of a stint's line behind its clock: the spot, presentations, what came of them, and what else is said. */
export type LineParts = {
  place: PlaceToken | null
  /** Presentations; those of one `group` are fished in turn, others at once. */
  parts: { part: Part; group: number }[]
  /** Fates and fish that follow no presentation of the line's own. */
  came: Came | null
  more: More
  /** Minutes fished, as said by the line. */
  minutes: number | null
  /** A ten-minute strip, and the tokens behind it. */
  strip: { piece: Piece; more: Piece[] } | null
}

/** A line's tokens behind its clock, told apart. `start` is that clock, UTC ms, `day` the day it is on. Throws Unreadable. */
export function readLineParts(
  words: readonly Piece[],
  start: number | null,
  day: DayPlace,
  { names, reader }: TapeContext,
): LineParts {
  const came: CameContext = { names, reader, place: day, start }
  const line: LineParts = {
    place: null,
    parts: [],
    came: null,
    more: nothingMore,
    minutes: null,
    strip: null,
  }
  const last: { species: string | null } = { species: null }
  let joint: "+" | "|" | null = null
  for (const word of words) {
    if (word.text.startsWith(";")) {
      line.more = { ...line.more, notes: noteOf(word) }
      continue
    }
    if (word.text.startsWith('"') && line.strip === null) {
      line.strip = { piece: word, more: [] }
      continue
    }
    const more = readMore(word, reader)
    const minutes = readMinutes(word.text)
    if (more !== null) line.more = { ...line.more, ...more }
    else if (line.strip !== null) line.strip.more.push(word)
    else if (minutes !== null) line.minutes = minutes
    else if (isPlace(word, names)) {
      if (line.place !== null || line.parts.length > 0 || line.came !== null)
        throw new Unreadable(word, "The spot stands right behind the clock, once.")
      line.place = readPlace(word, names)
    } else
      for (const [i, item] of jointly(word).entries()) {
        if (i > 0) joint = word.text[item.at - word.at - 1] === "|" ? "|" : "+"
        if (item.text === "") continue
        if (isPresentation(item, names)) {
          const before = line.parts.at(-1)
          if (before !== undefined && joint === null)
            throw new Unreadable(
              item,
              "Two presentations: write + between them if fished in turn, | if at once.",
              ["+", "|"],
            )
          if (line.came !== null)
            throw new Unreadable(item, "The presentation stands before what came of it.")
          const group = before === undefined ? 0 : joint === "+" ? before.group : before.group + 1
          line.parts.push({ part: readPart(item, came), group })
          joint = null
          continue
        }
        if (joint !== null) named(item, ["presentation"], names)
        const target = line.parts.at(-1)?.part.came ?? (line.came ??= nothingCame())
        if (readCameToken(item, last, target, came)) continue
        named(
          item,
          line.place === null && line.parts.length === 0
            ? ["spot", "presentation", "species"]
            : ["presentation", "species"],
          names,
        )
      }
  }
  if (joint !== null)
    throw new Unreadable(
      words.at(-1) ?? { text: "", at: 0 },
      "Another presentation is wanted behind the + or |.",
    )
  return line
}

/** A note without its semicolon. */
export const noteOf = ({ text }: Piece): string | null => {
  const note = unescaped(text.replace(/^;\s?/, ""))
  return note === "" ? null : note
}

/** The pieces between + and |, but for an equals sign's value. */
const jointly = (word: Piece): Piece[] => splitAt(word, (letter) => letter === "+" || letter === "|")

import { counterLetters, fateLetters } from "../../shared/notation.ts"
import type { Names } from "./names.ts"
import { part, type Piece, splitAt, Unreadable } from "./piece.ts"
import { type Came, type CameContext, nothingCame } from "./came.ts"
import { readCameToken, readFish, readLetters } from "./strikes.ts"

/** One stint of a ten-minute strip: neighbouring ticks with the same mark. */
export type Run = {
  readonly presentation_id: string
  /** Its first tick, from 0, and how many they are. */
  readonly tick: number
  ticks: number
  readonly came: Came
}

/** Whether a word is made of the letters of fates and counters only. */
export const isLetters = (text: string): boolean =>
  [...new Set(text.toLowerCase())].every((letter) => letter in fateLetters || letter in counterLetters)

/**
 * A ten-minute strip, `"ttbpt-c".m,,l rd24`: a mark a tick for what was tied on, a hyphen where nobody fished, spaces for the
 * eye only; behind it what came of each tick, ticks parted by commas, without the dot after the first. Throws Unreadable.
 */
export function readStrip(
  strip: Piece,
  more: readonly Piece[],
  names: Names,
  context: CameContext,
): { runs: Run[]; ticks: number } {
  const end = strip.text.indexOf('"', 1)
  if (end < 0) throw new Unreadable(strip, "The strip wants a quotation mark at its end.")
  const marks = markPieces(part(strip, 1, end))
  if (marks.length === 0) throw new Unreadable(strip, "The strip holds no ticks.")
  const presentations = marks.map((mark) => presentationOf(mark, names))
  const tail = part(strip, end + 1)
  const came = readTail(tail.text === "" ? more : [tail, ...more], presentations, marks, context)
  const runs: Run[] = []
  for (const [tick, presentation_id] of presentations.entries()) {
    const last = runs.at(-1)
    const here = came[tick] ?? nothingCame()
    if (presentation_id === null) continue
    if (last?.presentation_id === presentation_id && last.tick + last.ticks === tick) {
      last.ticks += 1
      addTo(last.came, here)
    } else runs.push({ presentation_id, tick, ticks: 1, came: here })
  }
  return { runs, ticks: marks.length }
}

function markPieces(piece: Piece): Piece[] {
  const found: Piece[] = []
  for (let at = 0; at < piece.text.length; at++)
    if (!/\s/.test(piece.text[at] ?? "")) found.push(part(piece, at, at + 1))
  return found
}

function presentationOf(mark: Piece, names: Names): string | null {
  if (mark.text === "-") return null
  const found = names.byMark(mark.text)
  if (found !== null) return found.id
  const marks = names.beginning("", ["presentation"]).flatMap((row) => row.mark ?? [])
  throw new Unreadable(mark, `"${mark.text}" is no presentation's mark.`, marks)
}

function readTail(
  words: readonly Piece[],
  presentations: readonly (string | null)[],
  marks: readonly Piece[],
  context: CameContext,
): Came[] {
  const ticks: Came[] = marks.map(nothingCame)
  const last: { species: string | null } = { species: null }
  let tick = 0
  for (const [at, word] of words.entries())
    for (const [i, typed] of splitAt(word, (letter) => letter === ",").entries()) {
      const item = at === 0 && i === 0 && typed.text.startsWith(".") ? part(typed, 1) : typed
      const goesOn = i > 0 && /^[\d?]/.test(item.text)
      if (i > 0 && !goesOn) tick += 1
      if (item.text === "") continue
      const came = ticks[tick]
      if (came === undefined)
        throw new Unreadable(item, `The strip has ${marks.length} ticks, and this would be one more.`)
      if (presentations[tick] === null)
        throw new Unreadable(item, `Nobody fished in tick ${tick + 1} of the strip.`)
      if (goesOn) readFish(item, last.species, came, context)
      else readTick(item, last, came, context)
    }
  return ticks
}

function readTick(item: Piece, last: { species: string | null }, came: Came, context: CameContext): void {
  if (/^\p{L}+$/u.test(item.text) && isLetters(item.text)) return readLetters(item, null, came, context)
  if (readCameToken(item, last, came, context)) return
  readLetters(item, null, came, context)
}

/** Adds what came of a later stretch to an earlier one. */
function addTo(came: Came, later: Came): void {
  came.strikes.push(...later.strikes)
  for (const column of ["follows", "hang_ups", "lures_lost"] as const)
    if (later[column] !== null) came[column] = (came[column] ?? 0) + later[column]
}

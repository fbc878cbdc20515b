import { type Piece, Unreadable } from "./piece.ts"

/** A fixed word as the tape has it: spaces are hyphens. */
export const tapeWord = (word: string): string => word.replaceAll(" ", "-")

const key = (text: string): string => text.toLowerCase().replaceAll(/[\s_-]+/g, "")

/** The fixed word that a piece begins; exactly or alone among them. Throws Unreadable with those it may be. */
export function fixedWord<W extends string>(piece: Piece, words: readonly W[], what: string): W {
  const typed = key(piece.text)
  const exact = words.find((word) => key(word) === typed)
  if (exact !== undefined) return exact
  const begun = typed === "" ? [] : words.filter((word) => key(word).startsWith(typed))
  const [only, more] = begun
  if (only !== undefined && more === undefined) return only
  const choices = (begun.length > 0 ? begun : words).map(tapeWord)
  const why = begun.length > 1 ? "may be more than one word" : "is none of them"
  throw new Unreadable(piece, `${what}: "${piece.text}" ${why}. Write ${choices.join(", ")}.`, choices)
}

import type { TapeContext } from "../../tape/context.ts"
import { named } from "../../tape/names.ts"
import { type Piece, tokens } from "../../tape/piece.ts"
import { type Came, type CameContext, nothingCame } from "../../tape/came.ts"
import { readCameToken, readLetters } from "../../tape/strikes.ts"
import { isLetters } from "../../tape/strip.ts"

/** What the fates and fish of a row that begins at `start`, UTC ms, are read with. */
export function cameContext(context: TapeContext, start: number | null): CameContext {
  const { names, reader, place } = context
  return { names, reader, place, start }
}

/** What came of a row as its cell says it. Throws Unreadable. */
export function readCame(context: TapeContext, piece: Piece, start: number | null): Came {
  const came = nothingCame()
  readCameTokens(tokens(piece), came, cameContext(context, start))
  return came
}

/** Reads words of fates and fish, and adds them to `came`. Throws Unreadable. */
export function readCameTokens(words: readonly Piece[], came: Came, context: CameContext): void {
  const last: { species: string | null } = { species: null }
  for (const word of words) {
    if (/^\p{L}+$/u.test(word.text) && isLetters(word.text) && context.names.find(word.text) === null)
      readLetters(word, null, came, context)
    else if (!readCameToken(word, last, came, context)) {
      if (/^[a-z][a-z\d]*$/i.test(word.text) && isLetters(word.text.replaceAll(/\d/g, "")))
        readLetters(word, null, came, context)
      else named(word, ["species"], context.names)
    }
  }
}

import type { Unclear } from "../../shared/day.ts"

/** A part of a typed text and where it begins in it. */
export type Piece = { readonly text: string; readonly at: number }

/** What a text cannot be read as: thrown by the readers of tokens, caught by whoever reads a line or a cell. */
export class Unreadable extends Error {
  readonly unclear: Unclear

  constructor({ text, at }: Piece, sentence: string, choices: readonly string[] = []) {
    super(sentence)
    this.unclear = { from: at, to: at + text.length, sentence, choices: [...choices] }
  }
}

/** The part of a piece from `from` to before `to`. */
export const part = ({ text, at }: Piece, from: number, to = text.length): Piece => ({
  text: text.slice(from, to),
  at: at + from,
})

/** Where the quotation or the name in brackets that begins at `from` ends; the text's end where it is not closed. */
function closing(text: string, from: number): number {
  const end = text[from] === "[" ? "]" : '"'
  for (let i = from + 1; i < text.length; i++) {
    if (text[i] !== end) continue
    if (text[i + 1] === end) i++
    else return i + 1
  }
  return text.length
}

/** Splits where `separates` says so, outside quotations and brackets. What is empty is kept. */
export function splitAt(piece: Piece, separates: (letter: string, at: number) => boolean): Piece[] {
  const found: Piece[] = []
  let from = 0
  for (let i = 0; i < piece.text.length; i++) {
    const letter = piece.text[i] ?? ""
    if (letter === "[" || letter === '"') i = closing(piece.text, i) - 1
    else if (separates(letter, i)) {
      found.push(part(piece, from, i))
      from = i + 1
    }
  }
  found.push(part(piece, from))
  return found
}

const isSpace = (letter: string): boolean => /\s/.test(letter)

/** The words between spaces; a semicolon makes a note of all that follows. */
export function tokens(piece: Piece): Piece[] {
  const note = noteAt(piece.text)
  const words = splitAt(part(piece, 0, note), isSpace).filter(({ text }) => text !== "")
  return note < piece.text.length ? [...words, part(piece, note)] : words
}

function noteAt(text: string): number {
  for (let i = 0; i < text.length; i++) {
    if (text[i] === "[" || text[i] === '"') i = closing(text, i) - 1
    else if (text[i] === ";") return i
  }
  return text.length
}

/** A free text as a value: bare where it is one plain word, else quoted, a quotation mark in it doubled. */
export const quoted = (text: string): string =>
  /^[\p{L}\d-]+$/u.test(text) ? text : `"${escaped(text).replaceAll('"', '""')}"`

/** A value as it was meant: without its quotation marks. */
export const unquoted = (text: string): string =>
  text.startsWith('"') ? unescaped(text.replace(/^"|"$/g, "").replaceAll('""', '"')) : text

/** Line ends within a line. */
export const escaped = (text: string): string => text.replaceAll("\\", "\\\\").replaceAll("\n", "\\n")
export const unescaped = (text: string): string =>
  text.replaceAll(/\\(n|\\)/g, (_, letter) => (letter === "n" ? "\n" : "\\"))

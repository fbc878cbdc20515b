import { type ClockText, readClock, readMinutes } from "./clock.ts"
import { part, type Piece } from "./piece.ts"

/** A clock of a line, as typed; null is unknown. */
export type OpeningClock = { readonly piece: Piece; readonly clock: ClockText } | null

/** How a line begins: with a clock, minutes after the last one, from when to when, minutes without a clock, or not known when. */
export type Opening =
  | {
      readonly kind: "clock"
      readonly piece: Piece
      readonly clock: ClockText
      readonly about: boolean
      readonly closes: boolean
    }
  | {
      readonly kind: "after"
      readonly piece: Piece
      readonly minutes: number
      readonly about: boolean
      readonly closes: boolean
    }
  | {
      readonly kind: "range"
      readonly from: OpeningClock
      readonly to: OpeningClock
      readonly about: boolean
    }
  | { readonly kind: "minutes"; readonly piece: Piece; readonly minutes: number }
  | { readonly kind: "unknown" }

/** The first token of a stint's line; null where it is none of these. */
export function readOpening(token: Piece): Opening | null {
  if (token.text === "?") return { kind: "unknown" }
  const about = token.text.startsWith("~")
  const piece = about ? part(token, 1) : token
  const closes = /.x$/i.test(piece.text)
  const bare = closes ? part(piece, 0, piece.text.length - 1) : piece
  const clock = readClock(bare.text)
  if (clock !== null) return { kind: "clock", piece: bare, clock, about, closes }
  const [, later = ""] = /^\+(.+)$/.exec(bare.text) ?? []
  const minutes = /^\d+$/.test(later) ? Number(later) : readMinutes(later)
  if (minutes !== null) return { kind: "after", piece: bare, minutes, about, closes }
  const range = readRange(bare)
  if (range !== null) return { kind: "range", ...range, about }
  const given = readMinutes(token.text)
  return given === null || given <= 0 ? null : { kind: "minutes", piece: token, minutes: given }
}

/** Two clocks with a hyphen between: 620-705, ?-705, 620-?. */
function readRange(piece: Piece): { from: OpeningClock; to: OpeningClock } | null {
  for (let at = piece.text.indexOf("-"); at > 0; at = piece.text.indexOf("-", at + 1)) {
    const [from, to] = [part(piece, 0, at), part(piece, at + 1)]
    const [start, end] = [readClock(from.text), readClock(to.text)]
    if ((start !== null || from.text === "?") && (end !== null || to.text === "?"))
      return {
        from: start === null ? null : { piece: from, clock: start },
        to: end === null ? null : { piece: to, clock: end },
      }
  }
  return null
}

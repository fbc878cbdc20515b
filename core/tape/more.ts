import type { DayStint } from "../../shared/day.ts"
import { countedLetters, reasonLetters } from "../../shared/notation.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { changeReasons } from "../../shared/vocabulary.ts"
import { amountText, readAmount } from "./amount.ts"
import { minutesText, readMinutes } from "./clock.ts"
import { part, type Piece, Unreadable } from "./piece.ts"
import { fixedWord, tapeWord } from "./word.ts"

type CountedColumn = `counted_${(typeof countedLetters)[keyof typeof countedLetters]}`

/** What a line may say of a stint besides time, place, presentation and what came of it. */
export type More = Pick<
  DayStint,
  "break_minutes" | "sight" | "fished_depth_m" | "why_changed" | "notes" | CountedColumn
> & {
  readonly ticked: boolean
  /** Minutes really fished, where they are not the clock's. */
  readonly fished: number | null
  /** Ties stints of different lines together that share an effort. */
  readonly group: string | null
}

export const nothingMore: More = {
  break_minutes: null,
  sight: null,
  fished_depth_m: null,
  why_changed: null,
  notes: null,
  counted_misses: null,
  counted_losses: null,
  counted_follows: null,
  counted_hang_ups: null,
  counted_landed: null,
  ticked: false,
  fished: null,
  group: null,
}

const isReason = (letter: string): letter is keyof typeof reasonLetters => letter in reasonLetters

/** Why the presentation was changed: a letter or the beginning of the word. */
export function readReason(piece: Piece): DayStint["why_changed"] {
  const letter = piece.text.toLowerCase()
  if (isReason(letter)) return reasonLetters[letter]
  return fixedWord(piece, changeReasons, "Why it was changed")
}

/** A token of this kind; null where it is none. Throws Unreadable where it is one that cannot be read. */
export function readMore(piece: Piece, reader: ReaderUnits): Partial<More> | null {
  const { text } = piece
  if (text.startsWith("!")) return { why_changed: readReason(part(piece, 1)) }
  if (text === "sight" || text === "blind") return { sight: text }
  if (text === "ticked") return { ticked: true }
  const pause = text.startsWith("-") ? readMinutes(text.slice(1)) : null
  if (pause !== null) return { break_minutes: pause }
  const [, key, value = ""] = /^([a-z]+)=(.*)$/i.exec(text) ?? []
  const inside = part(piece, text.length - value.length)
  if (key === undefined) return null
  if (key === "depth") return { fished_depth_m: readAmount(inside, "m", reader) }
  if (key === "count") return readCounted(inside)
  if (key === "group" && /^\w+$/.test(value)) return { group: value }
  if (key === "fished") {
    const minutes = readMinutes(value)
    if (minutes === null || minutes <= 0)
      throw new Unreadable(inside, `"${value}" are no minutes: write fished=35m.`)
    return { fished: minutes }
  }
  throw new Unreadable(piece, "Of a stint one may say depth=, count=, fished= or group=.", [
    "depth=",
    "count=",
    "fished=",
  ])
}

const isCounted = (letter: string): letter is keyof typeof countedLetters => letter in countedLetters

/** `-m+f`: misses were not counted in this stint, follows were. */
function readCounted(piece: Piece): Partial<More> {
  const counted: Partial<Record<CountedColumn, 0 | 1>> = {}
  if (!/^(?:[-+][a-z])+$/i.test(piece.text))
    throw new Unreadable(
      piece,
      "Write count=-m: misses were not counted; m misses, l losses, d landed, f follows, g hang-ups.",
    )
  for (let at = 0; at < piece.text.length; at += 2) {
    const letter = (piece.text[at + 1] ?? "").toLowerCase()
    if (!isCounted(letter))
      throw new Unreadable(
        part(piece, at, at + 2),
        `"${letter}" is nothing that is counted.`,
        Object.keys(countedLetters),
      )
    counted[`counted_${countedLetters[letter]}`] = piece.text[at] === "+" ? 1 : 0
  }
  return counted
}

/** All of it but why and notes, as typed. */
export function moreTokens(more: More, reader: ReaderUnits): string[] {
  const counted = Object.entries(countedLetters)
    .map(([letter, what]) => {
      const flag = more[`counted_${what}`]
      return flag === null ? "" : `${flag === 1 ? "+" : "-"}${letter}`
    })
    .join("")
  return [
    ...(more.ticked ? ["ticked"] : []),
    ...(more.break_minutes === null || more.break_minutes === 0
      ? []
      : [`-${minutesText(more.break_minutes)}`]),
    ...(more.fished === null ? [] : [`fished=${minutesText(more.fished)}`]),
    ...(more.sight === null ? [] : [more.sight]),
    ...(more.fished_depth_m === null ? [] : [`depth=${amountText(more.fished_depth_m, "m", reader)}`]),
    ...(counted === "" ? [] : [`count=${counted}`]),
    ...(more.group === null ? [] : [`group=${more.group}`]),
  ]
}

export const reasonToken = (why: DayStint["why_changed"]): string => (why === null ? "" : `!${tapeWord(why)}`)

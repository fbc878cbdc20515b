import type { DayStrike } from "../../../shared/day.ts"
import type { FishColumn } from "../../../shared/fishList.ts"
import { fateLetters, tookOnLetters } from "../../../shared/notation.ts"
import { type Fate, fates, tookOn } from "../../../shared/vocabulary.ts"
import { amountText, readAmount, settled } from "../../tape/amount.ts"
import { clockWords } from "../../tape/clock.ts"
import type { TapeContext } from "../../tape/context.ts"
import { named } from "../../tape/names.ts"
import { type Piece, Unreadable } from "../../tape/piece.ts"
import { fixedWord } from "../../tape/word.ts"

/** The columns that say something of the strike itself. */
export type StrikeColumn = Exclude<FishColumn, "stint">

/** What a strike's cell says, as it is typed; nothing where it is not known. */
export function strikeText(strike: DayStrike, column: StrikeColumn, context: TapeContext): string {
  const { names, place, reader } = context
  switch (column) {
    case "at":
      return strike.at === null ? "" : clockWords(strike.at, place.zone)
    case "fate":
      return strike.fate
    case "species":
      return strike.species_id === null ? "" : names.textOf("species", strike.species_id)
    case "length":
      return strike.length_mm === null ? "" : amountText(strike.length_mm, "mm", reader)
    case "weight":
      return strike.weight_g === null ? "" : amountText(settled(strike.weight_g / 1000), "kg", reader)
    case "took":
      return strike.took_on ?? ""
    case "where":
      return strike.hooked_where ?? ""
    case "kept":
      return strike.kept === null ? "" : strike.kept === 1 ? "kept" : "released"
  }
}

/** Puts a typed text into a strike's cell; an empty one is not known. Throws Unreadable, and changes nothing. */
export function setStrikeCell(
  strike: DayStrike,
  column: Exclude<StrikeColumn, "at">,
  piece: Piece,
  context: TapeContext,
): void {
  const empty = piece.text === ""
  switch (column) {
    case "fate":
      strike.fate = fateIn(piece, strike)
      return
    case "species":
      strike.species_id = empty || isFish(piece.text) ? null : named(piece, ["species"], context.names).id
      return
    case "length":
      strike.length_mm = empty || piece.text === "?" ? null : amountOf(strike, piece, "mm", "length", context)
      return
    case "weight":
      strike.weight_g =
        empty || piece.text === "?" ? null : settled(1000 * amountOf(strike, piece, "kg", "weight", context))
      return
    case "took":
      strike.took_on = empty ? null : tookIn(piece)
      return
    case "where":
      strike.hooked_where = empty ? null : piece.text
      return
    case "kept":
      if (!empty) requireLanded(strike, piece, "was kept or released")
      strike.kept = empty ? null : fixedWord(piece, ["kept", "released"], "Kept") === "kept" ? 1 : 0
  }
}

const isFish = (text: string): boolean => text.toLowerCase() === "fish" || text === "?"

function amountOf(
  strike: DayStrike,
  piece: Piece,
  unit: "mm" | "kg",
  what: string,
  { reader }: TapeContext,
): number {
  requireLanded(strike, piece, `has a ${what}`)
  const value = readAmount(piece, unit, reader)
  if (value <= 0) throw new Unreadable(piece, `A ${what} is more than nothing.`)
  return value
}

function requireLanded({ fate }: DayStrike, piece: Piece, what: string): void {
  if (fate !== "landed") throw new Unreadable(piece, `Only a landed fish ${what}; this one is "${fate}".`)
}

/** `d` is how a landed fish is written where a letter is wanted for it. */
const letters: Readonly<Record<string, Fate>> = { ...fateLetters, d: "landed" }

/** The fate that a text says, `landed` where it is empty; null where it says none. */
export function readFate(text: string): Fate | null {
  try {
    return text.trim() === "" ? "landed" : fateOf({ text: text.trim(), at: 0 })
  } catch (error) {
    if (error instanceof Unreadable) return null
    throw error
  }
}

const fateOf = (piece: Piece): Fate => letters[piece.text.toLowerCase()] ?? fixedWord(piece, fates, "Fate")

function fateIn(piece: Piece, { length_mm, weight_g, kept }: DayStrike): Fate {
  const fate = piece.text === "" ? "struck" : fateOf(piece)
  if (fate !== "landed" && (length_mm ?? weight_g ?? kept) !== null)
    throw new Unreadable(
      piece,
      "Only a landed fish has a length or a weight, or was kept or released: empty those cells first.",
    )
  return fate
}

const isTook = (letter: string): letter is keyof typeof tookOnLetters => letter in tookOnLetters
const tookIn = (piece: Piece): (typeof tookOn)[number] => {
  const letter = piece.text.toLowerCase()
  return isTook(letter) ? tookOnLetters[letter] : fixedWord(piece, tookOn, "Took on")
}

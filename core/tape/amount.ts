import { readerUnit, type ReaderUnits } from "../../shared/readerUnits.ts"
import { convert, type UnitId, units } from "../../shared/units.ts"
import { readPlainNumber, readQuantity } from "../exchange/read/quantity.ts"
import { type Piece, Unreadable } from "./piece.ts"

/** What is left of a stored number: more digits come from converting units, not from measuring. */
export const settled = (value: number): number => Math.round(value * 1e6) / 1e6

/** A quantity as typed, bare in the reader's unit or with its own, in `to`. Throws Unreadable. */
export function readAmount(piece: Piece, to: UnitId, reader: ReaderUnits): number {
  const read = readQuantity(piece.text, to, readerUnit(to, reader), false)
  if (read.kind === "refused") throw new Unreadable(piece, `${sentence(read.reason)}`)
  return settled(read.value)
}

/** A number without a unit, `5`, `2.5`, `1/4`; null for what is none. */
export function readNumber(text: string): number | null {
  const read = readPlainNumber(text, false)
  return read.kind === "read" ? read.value : null
}

const sentence = (reason: string): string => `${reason.slice(0, 1).toUpperCase()}${reason.slice(1)}.`

const mostDecimals = 3

/**
 * A quantity as it is typed: bare in the reader's unit where that says it to the last digit, else in the unit it is stored in
 * with that unit behind it. `readAmount` gives the same number again.
 */
export function amountText(value: number, unit: UnitId, reader: ReaderUnits): string {
  const seen = readerUnit(unit, reader)
  const shown = Number(convert(value, unit, seen).toFixed(mostDecimals))
  if (settled(convert(shown, seen, unit)) === settled(value)) return plain(shown)
  return `${plain(settled(value))}${units[unit].spellings[0] ?? unit}`
}

/** A number without an exponent. */
const plain = (value: number): string =>
  value
    .toFixed(6)
    .replace(/\.?0+$/, "")
    .replace(/^-0$/, "0")

import type { z } from "zod"
import { entities } from "../../../shared/entities.ts"
import { type FactorId, factorOf } from "../../../shared/factors.ts"
import { type UnitId, units } from "../../../shared/units.ts"
import { fold, spaced } from "./fold.ts"
import { observedCells } from "./observedCell.ts"
import { type Read, read, readPlainNumber, readQuantity, refused } from "./quantity.ts"

/** The stored fields by name: what they accept is what a cell may hold. */
const fields: Readonly<Record<string, z.ZodType>> = {
  ...entities.spot.shape,
  ...entities.lure.shape,
  ...entities.rig.shape,
  ...entities.retrieve.shape,
  ...entities.stop.shape,
  ...entities.stint.shape,
  ...entities.observation.shape,
  ...entities.computed.shape,
  ...entities.strike.shape,
}

const yesWords: ReadonlyMap<string, "yes" | "no"> = new Map([
  ...["yes", "y", "true", "1"].map((word) => [word, "yes"] as const),
  ...["no", "n", "false", "0"].map((word) => [word, "no"] as const),
])

/** Reads yes or no, true or false, 1 or 0. */
export function readYesNo(text: string): Read<"yes" | "no"> {
  const found = yesWords.get(fold(text))
  return found === undefined ? refused(`"${text.trim()}" is neither yes nor no`) : read(found)
}

/** Reads a word of a fixed list, whatever its case, accents, spaces and hyphens. */
export function readFixedWord<W extends string>(text: string, words: readonly W[]): Read<W> {
  const wanted = fold(text)
  const found = words.find((word) => fold(word) === wanted)
  return found === undefined ? refused(`"${spaced(text)}" is none of ${words.join(", ")}`) : read(found)
}

/** Reads a factor's cell: a number in the factor's own unit, a fixed word in our spelling, or a free word as typed. What
 *  people write for weather instead of numbers becomes a number too. */
export function readFactor(
  id: FactorId,
  unit: UnitId | null,
  text: string,
  decimalComma: boolean,
): Read<number | string> {
  const factor = factorOf(id)
  if (factor.kind === "categorical") {
    if (id === "scented") return readYesNo(text)
    return factor.levels === null ? read(spaced(text)) : readFixedWord(text, factor.levels)
  }
  const { unit: own } = factor
  const number =
    own === null
      ? readPlainNumber(text, decimalComma)
      : (observedCells[id]?.read(text, unit, decimalComma) ?? readQuantity(text, own, unit, decimalComma))
  return number.kind === "refused" ? number : withinField(id, number.value, own)
}

/** Checks a number against what the logbook stores in that field, and says the limit in the field's unit. */
export function withinField(field: string, value: number, unit: UnitId | null): Read<number> {
  const checked = fields[field]?.safeParse(value)
  if (checked === undefined || checked.success) return read(value)
  const symbol = unit === null ? "" : ` ${units[unit].symbol}`
  const shown = `${Number(value.toPrecision(6))}${symbol}`
  const [issue] = checked.error.issues
  if (issue?.code === "too_small") {
    return refused(
      `${shown} is too small: it must be ${issue.inclusive === true ? "at least" : "more than"} ${issue.minimum}${symbol}`,
    )
  }
  if (issue?.code === "too_big") {
    return refused(
      `${shown} is too large: it must be ${issue.inclusive === true ? "at most" : "less than"} ${issue.maximum}${symbol}`,
    )
  }
  return refused(`${shown} cannot be stored: ${issue?.message ?? "not a value of this field"}`)
}

import { type Read, read, readPlainNumber, refused } from "./quantity.ts"

/** Each of them makes a row of its own in the logbook; beyond this a cell is a slip or an attack. */
const mostInOneCell = 10_000

/** Reads a count: a whole number from 0 to 10,000. */
export function readCount(text: string, decimalComma: boolean): Read<number> {
  const number = readPlainNumber(text, decimalComma)
  if (number.kind === "refused") return number
  if (number.value < 0) return refused("a count cannot be negative")
  if (!Number.isInteger(number.value)) return refused("a count must be a whole number")
  if (number.value > mostInOneCell) return refused("more than 10,000 in one row")
  return read(number.value)
}

/** Reads a number of rods: a whole number from 1 to 1,000. */
export function readRods(text: string, decimalComma: boolean): Read<number> {
  const number = readPlainNumber(text, decimalComma)
  if (number.kind === "refused") return number
  if (!Number.isInteger(number.value) || number.value < 1)
    return refused("rods must be a whole number of at least 1")
  if (number.value > 1000) return refused("more than 1,000 rods")
  return read(number.value)
}

/** The known counts of one kind of fish, or of all, in the order in which none may exceed the one before. */
export type Ladder = {
  readonly strikes: number | null
  readonly hook_ups: number | null
  readonly landed: number | null
}

/** Which count exceeds one that it cannot exceed, or null where the known ones agree. */
export function contradiction(counts: Ladder): { field: "hook_ups" | "landed"; reason: string } | null {
  const { strikes, hook_ups, landed } = counts
  if (hook_ups !== null && strikes !== null && hook_ups > strikes) {
    return { field: "hook_ups", reason: `more hook-ups (${hook_ups}) than strikes (${strikes})` }
  }
  if (landed !== null && hook_ups !== null && landed > hook_ups) {
    return { field: "landed", reason: `more landed (${landed}) than hook-ups (${hook_ups})` }
  }
  if (landed !== null && strikes !== null && landed > strikes) {
    return { field: "landed", reason: `more landed (${landed}) than strikes (${strikes})` }
  }
  return null
}

import { type Dimension, type UnitId, convert, unitFor, units } from "../../../shared/units.ts"

/** What a cell says, or why it says nothing that can be used. An empty cell is neither. */
export type Read<T> =
  | { readonly kind: "read"; readonly value: T }
  | { readonly kind: "refused"; readonly reason: string }

export const read = <T>(value: T): { readonly kind: "read"; readonly value: T } => ({ kind: "read", value })
export const refused = (reason: string): { readonly kind: "refused"; readonly reason: string } => ({
  kind: "refused",
  reason,
})

/** One amount with its unit as written: `5' 6"` has two. */
export type Part = { readonly value: number; readonly unit: string | null }

const decimal = String.raw`[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?`
const fraction = String.raw`(\d+)\s*\/\s*(\d+)(?![\d/])`
const amount = new RegExp(
  String.raw`^(?:([+-]?)${fraction}|(${decimal})(?:(?:\s+|-)${fraction})?)(?![\d.])`,
  "i",
)
const unitText = /^[^\d\s+\-,;/][^\d,;]*/

const vulgar = /[¼½¾⅐-⅞]/g
const tidy = (text: string): string =>
  text
    .replaceAll(vulgar, (sign) => ` ${sign.normalize("NFKD")}`)
    .replaceAll("⁄", "/")
    .replaceAll("−", "-")
    .replaceAll("º", "°")
    .trim()

/**
 * Reads numbers as people write them: `12`, `4.75`, `1e3`, `1/4 oz`, `22 1/2 in`, `22-1/2"`, `22½ in`, `5' 6"`, `3h30`.
 * A comma inside a number is the decimal sign only where the table is known to use it so.
 */
export function readParts(text: string, decimalComma: boolean): Read<readonly Part[]> {
  const notNumber = refused(`not a number: ${text.trim()}`)
  let rest = tidy(text)
  if (/\d,\d|(^|\D),\d/.test(rest)) {
    if (!decimalComma) return refused("a comma inside a number: decimal or thousands? Write 1.5 or 1500")
    if (/\d\.\d/.test(rest)) return notNumber
    rest = rest.replaceAll(",", ".")
  } else if (decimalComma && /^[+-]?\d{1,3}(\.\d{3})+$/.test(rest)) {
    return refused(
      "a point before three digits in a table with decimal commas: decimal or thousands? Write 1,5 or 1500",
    )
  }
  const parts: Part[] = []
  while (rest !== "") {
    const found = amount.exec(rest)
    if (found === null) return notNumber
    const [whole, sign, lone, loneUnder, number, top, under] = found
    if (Number(loneUnder) === 0 || Number(under) === 0)
      return refused(`${text.trim()} is a hook size, not a number`)
    const base = number === undefined ? 0 : Number(number)
    const part =
      lone === undefined
        ? top === undefined
          ? 0
          : Number(top) / Number(under)
        : Number(lone) / Number(loneUnder)
    const negative = sign === "-" || number?.startsWith("-") === true
    const value = negative ? base - part : base + part
    if (!Number.isFinite(value)) return refused(`too large: ${text.trim()}`)
    rest = rest.slice(whole.length).trimStart()
    const unit = unitText.exec(rest)?.[0] ?? ""
    rest = rest.slice(unit.length)
    parts.push({ value, unit: unit.trim() === "" ? null : unit.trim() })
  }
  return parts.length === 0 ? notNumber : read(parts)
}

/** Reads one plain number without a unit. */
export function readPlainNumber(text: string, decimalComma: boolean): Read<number> {
  const parts = readParts(text, decimalComma)
  if (parts.kind === "refused") return parts
  const [only, more] = parts.value
  if (only === undefined || more !== undefined || only.unit !== null)
    return refused(`not a number: ${text.trim()}`)
  return read(only.value)
}

/** Dimensions in which more than one unit is in everyday use, so that a bare number says nothing. */
const needsUnit: ReadonlySet<Dimension> = new Set<Dimension>([
  "length",
  "mass",
  "force",
  "temperature",
  "speed",
  "pressure",
])

/**
 * Reads a quantity and converts it to `to`. The cell's own unit beats `given` (the header's or the chosen one); with
 * neither, a bare number is taken as `to` only where no other unit is in sensible use.
 */
export function readQuantity(
  text: string,
  to: UnitId,
  given: UnitId | null,
  decimalComma: boolean,
): Read<number> {
  const { dimension } = units[to]
  const parts = readParts(text, decimalComma)
  if (parts.kind === "refused") return parts
  let sum = 0
  for (const [at, part] of parts.value.entries()) {
    const unit = unitOf(
      part,
      at === 0 && parts.value.length === 1,
      dimension,
      given ?? (needsUnit.has(dimension) ? null : to),
    )
    if (unit.kind === "refused") return unit
    sum += convert(part.value, unit.value, to)
  }
  if (parts.value.length > 1 && (dimension === "temperature" || parts.value.some((part) => part.value < 0))) {
    return refused(`not a number: ${text.trim()}`)
  }
  return read(sum)
}

function unitOf(part: Part, alone: boolean, dimension: Dimension, given: UnitId | null): Read<UnitId> {
  if (part.unit === null) {
    if (!alone) return refused("a number without its unit beside one that has it")
    return given === null ? refused("no unit in the cell or the header and none chosen") : read(given)
  }
  const unit = unitFor(part.unit, dimension)
  return unit === null ? refused(`"${part.unit}" is not a unit of ${dimension}`) : read(unit)
}

const minutesIn: ReadonlyMap<string, number> = new Map([
  ...["h", "hr", "hrs", "hour", "hours"].map((word) => [word, 60] as const),
  ...["m", "min", "mins", "minute", "minutes"].map((word) => [word, 1] as const),
  ...["s", "sec", "secs", "second", "seconds"].map((word) => [word, 1 / 60] as const),
])

/** Reads a stretch of time in minutes: `3.5`, `3h30`, `4 h`, `120 min`, `5:00`, `0:22:30`. `bare` is the unit of a bare number. */
export function readMinutes(text: string, bare: "h" | "min", decimalComma: boolean): Read<number> {
  const clock = /^(\d+):([0-5]\d)(?::([0-5]\d))?$/.exec(text.trim())
  if (clock !== null) {
    if (bare === "min" && clock[3] === undefined) {
      return refused(
        `${text.trim()} in a column of minutes: hours and minutes, or minutes and seconds? Write the minutes`,
      )
    }
    return read(Number(clock[1]) * 60 + Number(clock[2]) + Number(clock[3] ?? 0) / 60)
  }
  const parts = readParts(text, decimalComma)
  if (parts.kind === "refused") return parts
  let sum = 0
  let before = Infinity
  for (const [at, { value, unit }] of parts.value.entries()) {
    const one = unit === null ? unwrittenMinutes(at === 0 ? null : before, bare) : minutesOf(unit)
    if (one === undefined || one >= before || (at > 0 && value < 0)) {
      return refused(`not a length of time: ${text.trim()}`)
    }
    sum += value * one
    before = unit === null ? 0 : one
  }
  return read(sum)
}

const minutesOf = (unit: string): number | undefined => minutesIn.get(unit.toLowerCase().replace(/\.$/, ""))

/** What a number without a unit stands for: the column's unit where it is alone, minutes after written hours. */
const unwrittenMinutes = (before: number | null, bare: "h" | "min"): number | undefined =>
  before === null ? (bare === "h" ? 60 : 1) : before === 60 ? 1 : undefined

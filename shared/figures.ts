import { factorOf, isFactorId, type FactorId } from "./factors.ts"
import { outcomeWords } from "./outcomes.ts"
import type { Outcome } from "./questions.ts"
import { octantName } from "./cyclicNames.ts"
import { decimalsForCuts, quantityFigure, readerUnit, type ReaderUnits } from "./readerUnits.ts"
import { units } from "./units.ts"

/** A number to so many significant digits without an exponent; what is too small or too large to matter is said so. */
export function figure(value: number, digits = 2): string {
  const size = Math.abs(value)
  if (size === 0) return "0"
  if (size < 0.001) return "<0.001"
  if (size >= 100_000) return "over 100000"
  const rounded = Number(value.toPrecision(digits))
  if (Math.abs(rounded) >= 10 ** digits / 10) return String(Math.round(value))
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(rounded))))
  return value.toFixed(decimals)
}

/** Rod-hours in figures: three significant digits, and whole hours from a hundred on. */
export const hoursFigure = (hours: number): string =>
  hours >= 100 ? String(Math.round(hours)) : figure(hours, 3)

/** A ratio in figures: as `figure`, with more digits where two would round a difference away to 1. */
export function ratioFigure(ratio: number): string {
  for (let digits = 2; digits <= 3; digits++) {
    const text = figure(ratio, digits)
    if (ratio === 1 || Number(text) !== 1) return text
  }
  return ratio > 1 ? "just over 1" : "just under 1"
}

/** An estimate of an outcome in figures: shares and chances in per cent, lengths (mm) in the reader's unit. */
export function estimateFigure(outcome: Outcome, value: number, reader: ReaderUnits, digits = 2): string {
  const { kind } = outcomeWords(outcome)
  if (kind === "length") return quantityFigure(value, "mm", reader)
  if (kind === "rate") return figure(value, digits)
  const percent = 100 * value
  if (percent > 0 && percent < 0.1) return "<0.1%"
  return `${Number(percent < 10 || percent > 99 ? percent.toFixed(1) : percent.toFixed(0))}%`
}

/** What an outcome is counted in, lengths in the reader's unit. */
export const outcomeUnit = (outcome: Outcome, reader: ReaderUnits): string =>
  outcomeWords(outcome).kind === "length" ? units[reader.length].symbol : outcomeWords(outcome).unit

/** `1.9 to 6.7`, `at least 1.9`, `at most 6.7`, `no limits`: an interval's ends, null unbounded. */
export function rangeText(low: number | null, high: number | null, of: (end: number) => string): string {
  if (low === null && high === null) return "no limits"
  if (high === null) return low === 0 ? "no upper limit" : `${of(low ?? 0)}, no upper limit`
  if (low === null) return `no lower limit, ${of(high)}`
  return `${of(low)} to ${of(high)}`
}

/** "1 trip", "3 trips". */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`

/** "a", "a and b", "a, b and 3 more": at most `most` of the names. */
export function listed(names: readonly string[], most = 3): string {
  const shown = names.slice(0, most)
  const rest = names.length - shown.length
  const parts = rest > 0 ? [...shown, `${rest} more`] : shown
  return parts.length < 2 ? parts.join("") : `${parts.slice(0, -1).join(", ")} and ${parts.at(-1) ?? ""}`
}

const months = new Intl.DateTimeFormat("en", { month: "long", timeZone: "UTC" })

/** Names a level as it is read. */
export type NameOf = (level: string) => string

/** A number in a level's label: `-0.3-<-0.05` has two. */
const numberInLabel = /-?\d+(?:\.\d+)?(?:e[+-]?\d+)?/g
const cutsIn = (label: string): number[] => (label.match(numberInLabel) ?? []).map(Number)

/**
 * Names the levels of an answer as they are read: with their factor's unit as the reader has chosen it ("12-<18 °C",
 * "54-<64 °F"), counts as counts ("2", "3 or more"), a month by its name, eighths of a round by theirs ("N to NE"). `levels` are all that are shown together, as
 * in the answer, in SI: they decide how many decimals tell cuts apart; the factor's own cuts need none.
 */
export function levelNames(by: FactorId, levels: readonly string[], reader: ReaderUnits): NameOf {
  const nameOf = namesByKind(by, levels, reader)
  return (level) => (level === "others" ? "all others together" : nameOf(level))
}

/** Names the levels of something told by a factor, which stands there as a word. */
export const namesIn = (
  { by, levels }: { readonly by: string; readonly levels: readonly { readonly level: string }[] },
  reader: ReaderUnits,
): NameOf =>
  isFactorId(by)
    ? levelNames(
        by,
        levels.map(({ level }) => level),
        reader,
      )
    : (level) => level

function namesByKind(by: FactorId, levels: readonly string[], reader: ReaderUnits): NameOf {
  if (by === "month") return (level) => months.format(Date.UTC(2000, Number(level) - 1))
  const factor = factorOf(by)
  if (factor.kind === "cyclic") return (level) => octantName(by, cutsIn(level)[0] ?? 0) ?? level
  if (factor.kind === "continuous" && factor.whole) return countName
  const unit = factor.kind === "categorical" ? null : factor.unit
  if (unit === null) return (level) => level
  const seen = readerUnit(unit, reader)
  if (seen === unit) return (level) => `${level} ${units[unit].symbol}`
  const own = factor.kind === "continuous" ? factor.cuts : []
  const shown = levels.flatMap(cutsIn)
  const decimals = decimalsForCuts(shown.every((cut) => own.includes(cut)) ? own : shown, unit, reader)
  const figureOf = (cut: string) => quantityFigure(Number(cut), unit, reader, decimals)
  return (level) => `${level.replaceAll(numberInLabel, figureOf)} ${units[seen].symbol}`
}

/** The counts that a level holds: `<2` is 1, `2-<3` is 2, `2-<5` is 2 to 4, `>=3` is 3 or more. */
function countName(level: string): string {
  const cuts = cutsIn(level).map(Math.ceil)
  const least = level.startsWith("<") ? 1 : Math.max(1, cuts[0] ?? 1)
  if (level.startsWith(">=")) return `${least} or more`
  const most = (cuts.at(-1) ?? least) - 1
  if (most < least) return level
  return most === least ? `${least}` : `${least} to ${most}`
}

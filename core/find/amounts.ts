import { factorOf, type FactorId } from "../../shared/factors.ts"
import { readerUnit, type ReaderUnits } from "../../shared/readerUnits.ts"
import { convert, unitFor, type UnitId, units } from "../../shared/units.ts"
import type { FishSize, Range, TripCount, TripWish } from "../store/read/findTrips.ts"
import { settled } from "../tape/amount.ts"
import { type Comparison, readComparison, type Typed } from "./comparison.ts"
import { amountNameAt, type AmountOf, type SpeciesOf } from "./names.ts"

/** A condition in numbers: how many words it took, what it is of, what it wishes, and the same in words. */
export type AmountFound = {
  readonly words: number
  readonly of: AmountOf
  readonly wish: Partial<TripWish>
  readonly said: string
}
type Wished = Pick<AmountFound, "wish" | "said">

/** A bare count before a name is no year. */
const mostBareCount = 1000

/**
 * A condition in numbers at the head of `words` (in lower case): `water under 60`, `wind over 5 kn`, `depth 3 to 6 ft`, `more
 * than 5 fish`, `red drum over 24 in`. Bare numbers are in the reader's units. `last` is what the condition just before was
 * of; it holds for a comparison that names nothing itself. Null where there is none.
 */
export function readAmountWish(
  words: readonly string[],
  species: SpeciesOf,
  reader: ReaderUnits,
  last: AmountOf | null,
): AmountFound | null {
  const found = nameFirst(words, species) ?? nameBehind(words, species, last)
  if (found === null) return null
  const { of, amount } = found
  const wish = of.kind === "factors" ? factorWish(of.choices, amount, reader) : countWish(of, amount, reader)
  return wish === null ? null : { words: found.words, of, ...wish }
}

type Named = { readonly words: number; readonly of: AmountOf; readonly amount: Comparison }

const isBare = ({ sign, high }: Comparison): boolean => sign === null && high === null

/** `wind over 5`. A bare number behind a count is not of it: "red drum 2025". */
function nameFirst(words: readonly string[], species: SpeciesOf): Named | null {
  const named = amountNameAt(words, species)
  if (named === null) return null
  const at = named.words + (["is", "was", "of"].includes(words[named.words] ?? "") ? 1 : 0)
  const amount = readComparison(words.slice(at))
  if (amount === null || (named.of.kind === "count" && isBare(amount))) return null
  return { words: at + amount.words, of: named.of, amount }
}

/** `over 5 kn of wind`, `5 fish`; or, behind another condition, `and under 8`. */
function nameBehind(words: readonly string[], species: SpeciesOf, last: AmountOf | null): Named | null {
  const begun = words[0] === "and" ? 1 : 0
  const amount = readComparison(words.slice(begun))
  if (amount === null) return null
  const next = begun + amount.words
  const at = next + (words[next] === "of" ? 1 : 0)
  const named = amountNameAt(words.slice(at), species)
  const fits =
    named !== null &&
    (!isBare(amount) || (named.of.kind === "count" && amount.low.value < mostBareCount)) &&
    // what is behind may begin a condition of its own: "wind over 2 under 5 water under 60"
    (last === null || nameFirst(words.slice(at), species) === null)
  if (fits) return { words: at + named.words, of: named.of, amount }
  return last === null || amount.sign === null ? null : { words: next, of: last, amount }
}

function factorWish(
  choices: readonly (readonly FactorId[])[],
  amount: Comparison,
  reader: ReaderUnits,
): Wished | null {
  for (const ids of choices) {
    const read = ids.flatMap((factor) => {
      const { said, range } = factorRange(factor, amount, reader) ?? { said: "", range: null }
      return range === null ? [] : [{ factor, said, range }]
    })
    const [first] = read
    if (first === undefined) continue
    const labels = read.map(({ factor }) => factorOf(factor).label.toLowerCase())
    return {
      wish: { stint: [{ anyOf: read.map(({ factor, range }) => ({ factor, range })) }] },
      said: `${labels.join(" or ")} ${first.said}`,
    }
  }
  return null
}

function factorRange(id: FactorId, amount: Comparison, reader: ReaderUnits): RangeSaid | null {
  const factor = factorOf(id)
  if (factor.kind !== "continuous") return null
  if (factor.unit !== null) return quantityRange(factor.unit, amount, reader)
  if (amount.unit === "%")
    return rangeOf(
      amount,
      false,
      ({ value }) => value / 100,
      ({ text }) => `${text}%`,
    )
  return amount.unit === null ? rangeOf(amount, factor.whole, valueOf, textOf) : null
}

const countWords = {
  landed: "fish landed",
  strikes: "strikes",
  hook_ups: "hook-ups",
  follows: "follows",
  hang_ups: "hang-ups",
  rod_hours: "rod-hours",
} as const satisfies Record<TripCount["of"], string>

const sizes: readonly (readonly [FishSize["measure"], UnitId])[] = [
  ["length_mm", "mm"],
  ["weight_g", "g"],
]

/** What the whole trip counted; with a unit of length or weight behind the number, one fish of that size. */
function countWish(
  { of, species }: Extract<AmountOf, { kind: "count" }>,
  amount: Comparison,
  reader: ReaderUnits,
): Wished | null {
  if (amount.unit === null) {
    const { range, said } = rangeOf(amount, of !== "rod_hours", valueOf, textOf)
    return {
      wish: { counts: [{ of, species, range }] },
      said: `${said} ${species === null ? countWords[of] : `${species} landed`} in the trip`,
    }
  }
  for (const [measure, unit] of of === "landed" ? sizes : []) {
    const read = quantityRange(unit, amount, reader)
    if (read !== null)
      return {
        wish: { sizes: [{ species, measure, range: read.range }] },
        said: `a ${species ?? "fish"} ${read.said} landed`,
      }
  }
  return null
}

type RangeSaid = { readonly range: Range; readonly said: string }

const valueOf = ({ value }: Typed): number => value
const textOf = ({ text }: Typed): string => text

/** The range in the unit stored; in words as it was typed. Null where the unit typed is of something else. */
function quantityRange(stored: UnitId, amount: Comparison, reader: ReaderUnits): RangeSaid | null {
  const unit =
    amount.unit === null ? readerUnit(stored, reader) : unitFor(amount.unit, units[stored].dimension)
  if (unit === null) return null
  return rangeOf(
    amount,
    false,
    ({ value }) => settled(convert(value, unit, stored)),
    ({ text }) => `${text} ${units[unit].symbol}`,
  )
}

/**
 * A bare number means what rounds to it: 5 is 4.5 to under 5.5, except where only whole numbers can be. Two ends are both in
 * the range.
 */
function rangeOf(
  { sign, low, high }: Comparison,
  whole: boolean,
  stored: (typed: Typed) => number,
  text: (typed: Typed) => string,
): RangeSaid {
  const bound = (typed: Typed, included: boolean) => ({ value: stored(typed), included })
  if (high !== null)
    return { range: { from: bound(low, true), to: bound(high, true) }, said: `${low.text} to ${text(high)}` }
  switch (sign) {
    case "<":
      return { range: { from: null, to: bound(low, false) }, said: `under ${text(low)}` }
    case "<=":
      return { range: { from: null, to: bound(low, true) }, said: `at most ${text(low)}` }
    case ">":
      return { range: { from: bound(low, false), to: null }, said: `over ${text(low)}` }
    case ">=":
      return { range: { from: bound(low, true), to: null }, said: `at least ${text(low)}` }
    case "=":
    case null: {
      const half = whole ? 0 : 0.5 * 10 ** -(low.text.split(".")[1] ?? "").length
      const end = (by: number, included: boolean) =>
        bound({ text: low.text, value: low.value + by }, included)
      return { range: { from: end(-half, true), to: end(half, whole) }, said: text(low) }
    }
  }
}

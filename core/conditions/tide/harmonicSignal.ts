import {
  cosinesOfYear,
  sampled,
  slopeAt,
  sumAt,
  yearOf,
  yearStart,
  type HarmonicConstant,
  type YearOfCosines,
} from "./harmonicSum.ts"

/** A predicted curve of a place over time: a mean and a sum of cosines, whose node factors change at each New Year. */
export type HarmonicSignal = {
  /** The value at an instant in UTC ms, in the constants' unit. */
  readonly valueAt: (at: number) => number
  /** Its change in units an hour. */
  readonly rateAt: (at: number) => number
  /** Every instant from `from` to before `to` at which the value, or the rate, passes zero. */
  readonly crossings: (what: "value" | "rate", from: number, to: number) => Crossing[]
}

/** Where a curve passes zero: upwards, or downwards. Exact to a millisecond. */
export type Crossing = { readonly at: number; readonly upwards: boolean }

const hourMs = 3_600_000
/** Short against the fastest constituent's period, 3.1 hours. */
const step = hourMs / 4

/**
 * The curve of constants around a mean of the same unit. Years are prepared when first asked for and kept; a program
 * that runs for weeks asks for few.
 */
export function harmonicSignal(constants: readonly HarmonicConstant[], mean: number): HarmonicSignal {
  const years = new Map<number, YearOfCosines>()
  const cosines = (year: number): YearOfCosines => {
    const known = years.get(year)
    if (known !== undefined) return known
    const made = cosinesOfYear(constants, year)
    years.set(year, made)
    return made
  }
  return {
    valueAt: (at) => mean + sumAt(cosines(yearOf(at)), at),
    rateAt: (at) => slopeAt(cosines(yearOf(at)), at) * hourMs,
    crossings: (what, from, to) => {
      const found: Crossing[] = []
      let above: boolean | null = null
      for (let year = yearOf(from); yearStart(year) < to; year++) {
        const start = Math.max(from, yearStart(year))
        const part = crossingsOf(
          cosines(year),
          what === "value" ? mean : null,
          start,
          Math.min(to, yearStart(year + 1)),
        )
        // The curve jumps by a hair at New Year: it may pass zero in the jump itself.
        if (above !== null && above !== part.startsAbove) found.push({ at: start, upwards: part.startsAbove })
        for (const crossing of part.found) found.push(crossing)
        above = part.endsAbove
      }
      return found
    },
  }
}

type Part = {
  readonly startsAbove: boolean
  readonly endsAbove: boolean
  readonly found: readonly Crossing[]
}

/** Crossings of one year's sum plus `mean`, or of its slope where `mean` is null, from `from` up to `to`. */
function crossingsOf(year: YearOfCosines, mean: number | null, from: number, to: number): Part {
  const of = mean === null ? (at: number) => slopeAt(year, at) : (at: number) => mean + sumAt(year, at)
  const count = Math.max(1, Math.ceil((to - from) / step))
  const samples = sampled(year, mean === null ? "slope" : "sum", from, step, count)
  const found: Crossing[] = []
  let last: Sample = { at: from, value: (samples[0] ?? 0) + (mean ?? 0) }
  const startsAbove = last.value >= 0
  for (let k = 1; k <= count; k++) {
    const now: Sample =
      k === count
        ? { at: to, value: of(to) }
        : { at: from + k * step, value: (samples[k] ?? 0) + (mean ?? 0) }
    const upwards = now.value >= 0
    if (upwards !== last.value >= 0) found.push({ at: root(of, last, now), upwards })
    last = now
  }
  return { startsAbove, endsAbove: last.value >= 0, found }
}

type Sample = { readonly at: number; readonly value: number }

/**
 * The root of a function between two instants where it changes sign, to a millisecond. Source: regula falsi in the variant of
 * Illinois, Dowell & Jarratt (1971) BIT 11:168-174 (from memory): the value of an end that stays is halved, so that both close in.
 */
function root(of: (at: number) => number, from: Sample, to: Sample): number {
  const upwards = to.value >= 0
  let [low, high] = [from, to]
  let stayed: "low" | "high" | null = null
  while (high.at - low.at > 1) {
    const guess = low.at - (low.value * (high.at - low.at)) / (high.value - low.value)
    const at = Math.min(Math.max(guess, low.at + 0.5), high.at - 0.5)
    const now = { at, value: of(at) }
    if (now.value >= 0 === upwards) {
      if (stayed === "low") low = { at: low.at, value: low.value / 2 }
      ;[high, stayed] = [now, "low"]
    } else {
      if (stayed === "high") high = { at: high.at, value: high.value / 2 }
      ;[low, stayed] = [now, "high"]
    }
  }
  return Math.round((low.at + high.at) / 2)
}

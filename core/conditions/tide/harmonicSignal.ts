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
  valueAt(at: number): number
  /** Its change in units an hour. */
  rateAt(at: number): number
  /** Every instant from `from` to before `to` at which the value, or the rate, passes zero. */
  crossings(what: "value" | "rate", from: number, to: number): Crossing[]
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
  const { value, slope } = sampled(year, from, step, count)
  const sample = (k: number): number =>
    k === count ? of(to) : mean === null ? (slope[k] ?? 0) : mean + (value[k] ?? 0)
  const found: Crossing[] = []
  const startsAbove = sample(0) >= 0
  let above = startsAbove
  for (let k = 1; k <= count; k++) {
    const now = sample(k) >= 0
    if (now === above) continue
    found.push({ at: root(of, from + (k - 1) * step, k === count ? to : from + k * step, now), upwards: now })
    above = now
  }
  return { startsAbove, endsAbove: above, found }
}

/** The root of a function between two instants where it changes sign, to a millisecond. Bisection after regula falsi. */
function root(of: (at: number) => number, from: number, to: number, upwards: boolean): number {
  let [low, high] = [from, to]
  let [below, above] = [of(low), of(high)]
  for (let i = 0; i < 60 && high - low > 1; i++) {
    const guess = low - (below * (high - low)) / (above - below)
    const at = i % 3 === 2 || !(guess > low && guess < high) ? (low + high) / 2 : guess
    const value = of(at)
    if (value >= 0 === upwards) [high, above] = [at, value]
    else [low, below] = [at, value]
  }
  return Math.round(Math.abs(below) < Math.abs(above) ? low : high)
}

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

/**
 * A predicted curve of a place over time: a mean and a sum of cosines, whose node factors are those of the calendar year.
 * About New Year one year's curve passes smoothly into the next's.
 */
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
 * How long before and after New Year the one year's curve passes into the next's. Ours: bare, some would jump by 13 cm, most
 * of the home coast's by 3 to 5.
 */
const passing = 3 * hourMs

/** A stretch on which the curve is one function, without its mean: a year's sum, or the passing of one into the next. */
type Piece = {
  readonly value: (at: number) => number
  /** Change a ms. */
  readonly slope: (at: number) => number
  /** The function every `step` from an instant, `count` times. */
  readonly samples: (what: "sum" | "slope", from: number, count: number) => Float64Array
}

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
  const pieceAt = (at: number): Piece => {
    const newYear = newYearNear(at)
    const year = yearOf(newYear)
    return at >= newYear - passing && at < newYear + passing
      ? passage(cosines(year - 1), cosines(year), newYear)
      : wholeYear(cosines(yearOf(at)))
  }
  return {
    valueAt: (at) => mean + pieceAt(at).value(at),
    rateAt: (at) => pieceAt(at).slope(at) * hourMs,
    crossings: (what, from, to) => {
      const found: Crossing[] = []
      let above: boolean | null = null
      for (let start = from; start < to;) {
        const end = Math.min(to, nextSeam(start))
        const part = crossingsOf(pieceAt(start), what === "value" ? mean : null, start, end)
        // Rounding may put a zero at the seam on the wrong side of it.
        if (above !== null && above !== part.startsAbove) found.push({ at: start, upwards: part.startsAbove })
        for (const crossing of part.found) found.push(crossing)
        above = part.endsAbove
        start = end
      }
      return found
    },
  }
}

/** The New Year nearest to an instant. */
function newYearNear(at: number): number {
  const [start, end] = [yearStart(yearOf(at)), yearStart(yearOf(at) + 1)]
  return at - start < end - at ? start : end
}

/** The next instant at which one piece ends and another begins. */
function nextSeam(at: number): number {
  const newYear = newYearNear(at)
  if (at < newYear - passing) return newYear - passing
  return at < newYear + passing ? newYear + passing : yearStart(yearOf(newYear) + 1) - passing
}

const wholeYear = (year: YearOfCosines): Piece => ({
  value: (at) => sumAt(year, at),
  slope: (at) => slopeAt(year, at),
  samples: (what, from, count) => sampled(year, what, from, step, count),
})

/** One year's sum passing into the next's about New Year, its slope without a break (a cubic from 0 to 1). */
function passage(before: YearOfCosines, after: YearOfCosines, newYear: number): Piece {
  const through = (at: number) => (at - newYear + passing) / (2 * passing)
  const weight = (s: number) => s * s * (3 - 2 * s)
  const value = (at: number) => {
    const first = sumAt(before, at)
    return first + weight(through(at)) * (sumAt(after, at) - first)
  }
  const slope = (at: number) => {
    const s = through(at)
    const first = slopeAt(before, at)
    const changing = (6 * s * (1 - s)) / (2 * passing)
    return (
      first + weight(s) * (slopeAt(after, at) - first) + changing * (sumAt(after, at) - sumAt(before, at))
    )
  }
  return {
    value,
    slope,
    samples: (what, from, count) =>
      Float64Array.from({ length: count }, (_, k) => (what === "sum" ? value : slope)(from + k * step)),
  }
}

type Part = {
  readonly startsAbove: boolean
  readonly endsAbove: boolean
  readonly found: readonly Crossing[]
}

/** Crossings of a piece plus `mean`, or of its slope where `mean` is null, from `from` up to `to`. */
function crossingsOf(piece: Piece, mean: number | null, from: number, to: number): Part {
  const of = mean === null ? piece.slope : (at: number) => mean + piece.value(at)
  const count = Math.max(1, Math.ceil((to - from) / step))
  const samples = piece.samples(mean === null ? "slope" : "sum", from, count)
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

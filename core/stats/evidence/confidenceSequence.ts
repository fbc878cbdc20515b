import { CAP, type Pair, cappedDifference } from "./pairs.ts"

const ALPHA = 0.05
const LARGEST_BET = 0.5

export type ConfidenceSequence = {
  /** Weight of each value, fixed before it is seen. */
  readonly weight: Float64Array
  /** Weighted mean of the values so far, and the reach of the interval to either side before it is cut to [-1, 1]. */
  readonly centre: Float64Array
  readonly radius: Float64Array
  /** Interval after each value, cut to [-1, 1]. */
  readonly low: Float64Array
  readonly high: Float64Array
  /** What all intervals so far have in common. */
  readonly runningLow: Float64Array
  readonly runningHigh: Float64Array
}

/** Intervals for the mean of values in [-1, 1] that hold, in at least 95% of cases, at all times at once: the weighted mean of
 *  the values' expectations given the past. Empirical Bernstein with predictable weights. RangeError for a value outside.
 *  Sources: Waudby-Smith & Ramdas (2024) Journal of the Royal Statistical Society B 86:1-27, Theorem 2; Fan, Grama & Liu (2015)
 *  Electronic Journal of Probability 20, Lemma 4.1 (both from memory). */
export function confidenceSequence(values: Float64Array): ConfidenceSequence {
  const empty = (): Float64Array => new Float64Array(values.length)
  const [weight, centre, radius, low, high] = [empty(), empty(), empty(), empty(), empty()]
  const [runningLow, runningHigh] = [empty(), empty()]
  const logBound = Math.log(2 / ALPHA)
  let [sum, squares, mean, variance] = [0.5, 0.25, 0.5, 0.25]
  let [weights, weighted, spread] = [0, 0, 0]
  let [highestLow, lowestHigh] = [-1, 1]
  values.forEach((value, i) => {
    if (!(value >= -1 && value <= 1))
      throw new RangeError(`A confidence sequence needs values from -1 to 1; it was given ${value}.`)
    const x = (value + 1) / 2
    const n = i + 1
    const bet = Math.min(LARGEST_BET, Math.sqrt((2 * logBound) / (variance * n * Math.log(n + 1))))
    weights += bet
    weighted += bet * x
    spread += (x - mean) ** 2 * (-Math.log1p(-bet) - bet)
    sum += x
    mean = sum / (n + 1)
    squares += (x - mean) ** 2
    variance = squares / (n + 1)
    const middle = (2 * weighted) / weights - 1
    const reach = (2 * (logBound + spread)) / weights
    weight[i] = bet
    centre[i] = middle
    radius[i] = reach
    low[i] = Math.max(-1, middle - reach)
    high[i] = Math.min(1, middle + reach)
    highestLow = Math.max(highestLow, low[i] ?? -1)
    lowestHigh = Math.min(lowestHigh, high[i] ?? 1)
    runningLow[i] = highestLow
    runningHigh[i] = lowestHigh
  })
  return Object.freeze({ weight, centre, radius, low, high, runningLow, runningHigh })
}

/** The same for the mean capped difference of pairs as a share of the cap, after each pair. Unfinished blocks: the lower end
 *  comes from a run with the smallest differences, the upper from one with the largest. */
export function differenceSequence(pairs: readonly Pair[]): { low: Float64Array; high: Float64Array } {
  const run = (completed: "smallest" | "largest"): ConfidenceSequence =>
    confidenceSequence(Float64Array.from(pairs, (pair) => cappedDifference(pair, completed) / CAP))
  return Object.freeze({ low: run("smallest").runningLow, high: run("largest").runningHigh })
}

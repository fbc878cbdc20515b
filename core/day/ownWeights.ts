import { counted } from "../../shared/figures.ts"
import type { OwnWeights } from "../../shared/fish.ts"
import { quantityText, type ReaderUnits } from "../../shared/readerUnits.ts"
import { fitPowerLaw, type PowerLaw, predictPowerLaw } from "../stats/describe/powerLaw.ts"

/** How many weighed fish a curve of one's own takes, and how much longer the longest must be; common practice, no source. */
const leastWeighed = 10
const leastSpread = 1.25

/** A measured and weighed fish. */
export type Weighed = { readonly length_mm: number; readonly weight_g: number }

/** The weight-at-length curve of one's own fish; null where they are too few or too much alike. */
export function ownLaw(fish: readonly Weighed[]): { law: PowerLaw; weights: OwnWeights } | null {
  const lengths = fish.map(({ length_mm }) => length_mm)
  const [from_mm, to_mm] = [Math.min(...lengths), Math.max(...lengths)]
  if (fish.length < leastWeighed || to_mm < leastSpread * from_mm) return null
  const law = fitPowerLaw(
    Float64Array.from(lengths),
    Float64Array.from(fish, ({ weight_g }) => weight_g),
  )
  const { low: b_low, high: b_high } = law.bInterval
  return {
    law,
    weights: { fish: fish.length, a: Math.exp(law.logA), b: law.b, b_low, b_high, from_mm, to_mm },
  }
}

/** The same in a sentence. */
export function sayWeights(fish: readonly Weighed[], own: OwnWeights | null, reader: ReaderUnits): string {
  if (own !== null)
    return `Weights are estimated from your own ${counted(own.fish, "weighed fish", "weighed fish")} of ${quantityText(own.from_mm, "mm", reader)} to ${quantityText(own.to_mm, "mm", reader)}: weight grows as length to the power ${own.b.toFixed(2)} (${own.b_low.toFixed(2)} to ${own.b_high.toFixed(2)}).`
  if (fish.length < leastWeighed)
    return `${counted(fish.length, "weighed fish", "weighed fish")} so far: from ${leastWeighed} on, weights of others can be estimated from their lengths.`
  return "The weighed fish are too much alike in length to tell how weight grows with it."
}

/** A weight that was not taken: the estimate with the range in which 95% of single fish lie, null where there is none, and why. */
export type EstimatedWeight = {
  /** How many weighed fish it stands on. */
  readonly fish: number
  readonly weight_g: number | null
  readonly low: number | null
  readonly high: number | null
  readonly said: string
}

/** Estimates weights from lengths, mm, by fish of one species; only between the shortest and the longest weighed. */
export function weightBy(
  fish: readonly Weighed[],
  reader: ReaderUnits,
): (length_mm: number) => EstimatedWeight {
  const own = ownLaw(fish)
  const none = { fish: fish.length, weight_g: null, low: null, high: null }
  if (own === null) return () => ({ ...none, said: sayWeights(fish, null, reader) })
  const { from_mm, to_mm } = own.weights
  const text = (grams: number): string => quantityText(grams / 1000, "kg", reader)
  return (length_mm) => {
    if (length_mm < from_mm || length_mm > to_mm)
      return {
        ...none,
        said: `${quantityText(length_mm, "mm", reader)} lies outside your weighed fish, ${quantityText(from_mm, "mm", reader)} to ${quantityText(to_mm, "mm", reader)}: no weight is estimated there.`,
      }
    const { mean, low, high } = predictPowerLaw(own.law, length_mm)
    return {
      fish: own.weights.fish,
      weight_g: mean,
      low,
      high,
      said: `Estimated ${text(mean)}, not weighed; single fish of that length weigh ${text(low)} to ${text(high)}, by your own ${own.weights.fish} weighed fish.`,
    }
  }
}

import { quantile } from "simple-statistics"
import { type Interval, wilson } from "../proportionInterval.ts"
import { type Predictions, requirePredictions } from "./predictionScores.ts"

export type CalibrationGroup = {
  /** Probabilities of the group: above `from` (the lowest group: from it on), up to and with `to`. */
  readonly from: number
  readonly to: number
  readonly predictions: number
  /** How many came true, and how many should have: the sum of the probabilities. */
  readonly observed: number
  readonly expected: number
  /** 95% interval of the share that comes true. */
  readonly share: Interval
}

/** Predictions in groups of rising probability, observed beside expected. Groups are cut at equally spaced type 7 quantiles of the
 *  probabilities and are fewer where these coincide. Source: Hosmer & Lemeshow (2000) Applied Logistic Regression, ch. 5. */
export function calibrationTable(predictions: Predictions, groups: number): CalibrationGroup[] {
  requirePredictions(predictions)
  if (!(Number.isInteger(groups) && groups > 0))
    throw new RangeError(`A table needs a whole number of groups above 0; it was given ${groups}.`)
  const { outcome, p } = predictions
  const cuts = Array.from({ length: groups + 1 }, (_, k) => quantile([...p], k / groups))
  const [lowest = 0, ...above] = new Set(cuts)
  const ends = above.length === 0 ? [lowest] : above
  return ends.flatMap((to, k) => {
    const from = ends[k - 1] ?? lowest
    let [count, observed, expected] = [0, 0, 0]
    p.forEach((probability, i) => {
      if (probability > to || (k > 0 && probability <= from)) return
      count++
      observed += outcome[i] ?? 0
      expected += probability
    })
    if (count === 0) return []
    return [{ from, to, predictions: count, observed, expected, share: wilson(observed, count) }]
  })
}

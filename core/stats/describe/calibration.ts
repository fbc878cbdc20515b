import { fitGlm } from "../glm/fitGlm.ts"
import type { NotFitted, Separated } from "../glm/notFitted.ts"
import { fromColumns } from "../matrix/matrix.ts"
import { type Predictions, logLossProbability, requirePredictions } from "./predictionScores.ts"

export type Calibration = {
  readonly kind: "fit"
  /** By how much the log odds came out above what was predicted; 0 is right on average. */
  readonly intercept: number
  /** 1 is right; below 1, the predictions were too far apart, above 1 not far enough. */
  readonly slope: number
  readonly seSlope: number
  /** Intercept of the line that has this slope. */
  readonly lineIntercept: number
}

/** Logistic regression of what came of predictions on their log odds. Not fitted where all predictions are alike, separated where
 *  they tell every outcome. Probabilities of 0 and 1 count as in the log loss. Sources: Cox (1958) Biometrika 45:562-565;
 *  Steyerberg (2009) Clinical Prediction Models, ch. 15 (both from memory). */
export function calibration(predictions: Predictions): Calibration | Separated | NotFitted {
  requirePredictions(predictions)
  const logOdds = predictions.p.map((p) => {
    const inside = logLossProbability(p)
    return Math.log(inside) - Math.log1p(-inside)
  })
  if (logOdds.every((value) => value === logOdds[0])) return { kind: "not fitted", why: "flat" }
  const y = Float64Array.from(predictions.outcome)
  const ones = new Float64Array(y.length).fill(1)
  const average = fitGlm({ x: fromColumns([ones], y.length), y, offset: logOdds }, "binomial logit")
  if (average.kind !== "fit") return average
  const line = fitGlm({ x: fromColumns([ones, logOdds], y.length), y }, "binomial logit")
  if (line.kind !== "fit") return line
  const [lineIntercept = NaN, slope = NaN] = line.coefficients
  return Object.freeze({
    kind: "fit",
    intercept: average.coefficients[0] ?? NaN,
    slope,
    seSlope: Math.sqrt(line.covariance.data[3] ?? NaN),
    lineIntercept,
  })
}

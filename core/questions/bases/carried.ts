import { ratioEnd } from "../estimate.ts"
import type { AdjustedContrast } from "../../stats/inference/adjustedContrast.ts"
import { jackknifedVariance } from "../../stats/inference/clusterDeletion.ts"
import type { StandardisedMean } from "../../stats/inference/standardised.ts"
import { tCritical } from "../../stats/confidence.ts"
import { tTwoSidedP } from "../../stats/distributions/studentT.ts"
import { quadraticForm, selectBlock } from "../../stats/matrix/matrix.ts"
import type { Model } from "./fitModel.ts"

/**
 * Ratio of two levels' standardised shares or lengths, by the delta method on its log, the larger of the model's variance and
 * the jackknife's. Where the contrast's own interval (likelihood ratio at few events, say) reaches farther than its
 * standard error, the ratio's ends reach farther by the same factor on the same side. Ours.
 */
export function ratioOfMeans(
  { fit, contrasted: { df, clusters }, contrasted }: Model,
  contrast: AdjustedContrast,
  l: Float64Array,
  a: StandardisedMean,
  b: StandardisedMean,
): { ratio: number | null; low: number | null; high: number | null; p: number | null } {
  const { covariance, coefficients } = fit
  if (covariance === null || !(a.mean > 0 && b.mean > 0))
    return { ratio: null, low: null, high: null, p: null }
  const p = coefficients.length
  const gradient = Float64Array.from({ length: p }, (_, j) => onLog(a, j) - onLog(b, j))
  const changes = contrasted.oneStep()
  const model = quadraticForm(gradient, selectBlock(covariance, p))
  const jackknife = changes === null ? 0 : jackknifedVariance(gradient, changes, clusters)
  const se = Math.sqrt(Math.max(model, jackknife))
  const own = Math.sqrt(quadraticForm(l, selectBlock(covariance, p)))
  const ownJackknife = changes === null ? 0 : Math.sqrt(jackknifedVariance(l, changes, clusters))
  const reach = tCritical(df) * Math.max(own, ownJackknife)
  const wider = (distance: number): number => Math.max(1, distance / reach)
  const log = Math.log(a.mean / b.mean)
  const [below, above] = [
    wider(contrast.estimate - contrast.low) * tCritical(df) * se,
    wider(contrast.high - contrast.estimate) * tCritical(df) * se,
  ]
  const towardsOne = log > 0 ? below : above
  return {
    ratio: Math.exp(log),
    low: ratioEnd(log - below),
    high: ratioEnd(log + above),
    p: Number.isFinite(towardsOne) ? tTwoSidedP((log * tCritical(df)) / towardsOne, df) : null,
  }
}

/** Derivative of the log of a standardised mean by a coefficient, from that on the mean's own scale. */
function onLog({ mean, gradient, scale }: StandardisedMean, j: number): number {
  const own = gradient[j] ?? 0
  if (scale === "log") return own
  return scale === "logit" ? own * (1 - mean) : own / mean
}

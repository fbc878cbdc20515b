import { requireShare } from "../arguments.ts"

/** Predicted probabilities and what came of them: outcome[i] is 1 or 0, p[i] in [0, 1]. */
export type Predictions = { readonly outcome: Uint8Array; readonly p: Float64Array }

/** Probabilities nearer to 0 or 1 than this count as this near, so that one certain mistake leaves the log loss finite. */
const CLIP = 1e-15

/** Mean squared difference of probability and outcome: 0 is perfect, 0.25 what always saying one half gives. Source: Brier (1950)
 *  Monthly Weather Review 78:1-3. */
export function brierScore(predictions: Predictions): number {
  return meanLoss(predictions, (outcome, p) => (p - outcome) ** 2)
}

/** Mean of -log of the probability given to what happened: 0 is perfect, log 2 what always saying one half gives. Source: Good
 *  (1952) Journal of the Royal Statistical Society B 14:107-114 (from memory). */
export function logLoss(predictions: Predictions): number {
  return meanLoss(predictions, (outcome, p) => {
    const clipped = logLossProbability(p)
    return outcome === 1 ? -Math.log(clipped) : -Math.log1p(-clipped)
  })
}

/** The probability, kept away from 0 and 1. */
export function logLossProbability(p: number): number {
  return Math.min(1 - CLIP, Math.max(CLIP, p))
}

function meanLoss({ outcome, p }: Predictions, loss: (outcome: number, p: number) => number): number {
  requirePredictions({ outcome, p })
  let sum = 0
  p.forEach((probability, i) => {
    sum += loss(outcome[i] ?? 0, probability)
  })
  return sum / p.length
}

/** Throws a RangeError unless there are predictions, each a probability with an outcome of 1 or 0. */
export function requirePredictions({ outcome, p }: Predictions): void {
  if (p.length === 0 || p.length !== outcome.length) {
    throw new RangeError(
      `Predictions need one outcome each; there are ${p.length} of them and ${outcome.length} outcomes.`,
    )
  }
  for (const probability of p) requireShare("A prediction", "its probability", probability)
  const wrong = outcome.find((value) => value !== 0 && value !== 1)
  if (wrong !== undefined) throw new RangeError(`An outcome must be 0 or 1; it was given ${wrong}.`)
}

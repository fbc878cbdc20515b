import { requireCount, requireNotNegative, requireProbability } from "../arguments.ts"
import { gammaLogTails } from "./incompleteGamma.ts"
import type { LogTails } from "./logTails.ts"
import { countQuantile } from "./quantileSearch.ts"
import { logPoissonTerm } from "./saddlePoint.ts"

/** The Poisson distribution, for whole k >= 0 and mean >= 0. Source: Abramowitz & Stegun (1964) 26.4.21 (from memory). */

/** log P(X = k). */
export function poissonLogPmf(k: number, mean: number): number {
  requireCount("poissonLogPmf", "k", k)
  requireNotNegative("poissonLogPmf", "mean", mean)
  return logPoissonTerm(k, mean)
}

/** log P(X <= k) and log P(X > k). */
export function poissonLogTails(k: number, mean: number): LogTails {
  requireCount("poissonLogTails", "k", k)
  const { lower, upper } = gammaLogTails(k + 1, mean)
  return { lower: upper, upper: lower }
}

/** The least k with P(X <= k) >= p. */
export function poissonQuantile(p: number, mean: number): number {
  requireProbability("poissonQuantile", p)
  return countQuantile(p, (k) => Math.exp(poissonLogTails(k, mean).lower), mean)
}

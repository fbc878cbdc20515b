import { requireCount, requireNotNegative, requireSize, requireProbability } from "../arguments.ts"
import { betaLogTails } from "./incompleteBeta.ts"
import type { LogTails } from "./logTails.ts"
import { countQuantile } from "./quantileSearch.ts"
import { logBinomialTerm } from "./saddlePoint.ts"

/** The negative binomial distribution with mean mu >= 0 and variance mu + mu^2/size, size > 0 (NB2). It keeps its digits as
 *  size grows and the law becomes the Poisson. Source: Abramowitz & Stegun (1964) 26.5.26 (from memory). */

function shares(k: number, size: number, mu: number): { x: number; y: number } {
  requireCount("The negative binomial distribution", "k", k)
  requireSize("The negative binomial distribution", "size", size)
  requireNotNegative("The negative binomial distribution", "mu", mu)
  return { x: size / (size + mu), y: mu / (size + mu) }
}

/** log P(X = k). */
export function negativeBinomialLogPmf(k: number, size: number, mu: number): number {
  const { x, y } = shares(k, size, mu)
  return logBinomialTerm(size, k, x, y) - Math.log1p(k / size)
}

/** log P(X <= k) and log P(X > k). */
export function negativeBinomialLogTails(k: number, size: number, mu: number): LogTails {
  const { x, y } = shares(k, size, mu)
  return betaLogTails(size, k + 1, x, y)
}

/** The least k with P(X <= k) >= p. */
export function negativeBinomialQuantile(p: number, size: number, mu: number): number {
  requireProbability("negativeBinomialQuantile", p)
  return countQuantile(p, (k) => Math.exp(negativeBinomialLogTails(k, size, mu).lower), mu)
}

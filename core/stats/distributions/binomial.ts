import { requireCount, requireProbability, requireShare } from "../arguments.ts"
import { betaLogTails } from "./incompleteBeta.ts"
import type { LogTails } from "./logTails.ts"
import { countQuantile } from "./quantileSearch.ts"
import { logBinomialTerm } from "./saddlePoint.ts"

/** The binomial distribution of n trials, whole and >= 0, with chance p in [0, 1]. Source: Abramowitz & Stegun (1964) 26.5.24
 *  (from memory). */

function requireBinomial(n: number, p: number): void {
  requireCount("The binomial distribution", "n", n)
  requireShare("The binomial distribution", "p", p)
}

/** log P(X = k). */
export function binomialLogPmf(k: number, n: number, p: number): number {
  requireBinomial(n, p)
  requireCount("The binomial distribution", "k", k)
  return k > n ? -Infinity : logBinomialTerm(k, n - k, p, 1 - p)
}

/** log P(X <= k) and log P(X > k). */
export function binomialLogTails(k: number, n: number, p: number): LogTails {
  requireBinomial(n, p)
  requireCount("The binomial distribution", "k", k)
  if (k >= n) return { lower: 0, upper: -Infinity }
  const { lower, upper } = betaLogTails(k + 1, n - k, p)
  return { lower: upper, upper: lower }
}

/** The least k with P(X <= k) >= level. */
export function binomialQuantile(level: number, n: number, p: number): number {
  requireProbability("binomialQuantile", level)
  requireBinomial(n, p)
  return countQuantile(level, (k) => Math.exp(binomialLogTails(k, n, p).lower), n * p, n)
}

import { requireNumber, requireSize } from "../arguments.ts"
import { betaLogitQuantile } from "./betaDistribution.ts"
import { betaLogTails } from "./incompleteBeta.ts"
import { logOfComplement } from "./logTails.ts"
import { logBetaTerm } from "./saddlePoint.ts"

/** Student's t distribution; degrees of freedom may be fractional. With x = df/(df + t^2), the two tails beyond -|t| and |t|
 *  together are I_x(df/2, 1/2). Source: Abramowitz & Stegun (1964) 26.7.1 with 26.5.2 (from memory). */

function shares(t: number, df: number): { x: number; y: number } {
  requireNumber("Student's t", "t", t)
  requireDf(df)
  const odds = (t / df) * t
  return { x: 1 / (1 + odds), y: odds === Infinity ? 1 : odds / (1 + odds) }
}

/** log density at t. */
export function tLogDensity(t: number, df: number): number {
  const { x, y } = shares(t, df)
  if (t === 0) return tLogDensityAtZero(df)
  return logBetaTerm(df / 2, 0.5, x, y) - Math.log(Math.abs(t))
}

/** log of 1 / (sqrt(df) B(df/2, 1/2)), by way of the beta term at t = 1. */
function tLogDensityAtZero(df: number): number {
  return logBetaTerm(df / 2, 0.5, df / (df + 1), 1 / (df + 1)) + ((df + 1) / 2) * Math.log1p(1 / df)
}

/** log P(T <= t). */
export function tLogLower(t: number, df: number): number {
  const { x, y } = shares(t, df)
  const smaller = betaLogTails(df / 2, 0.5, x, y).lower - Math.LN2
  return t < 0 ? smaller : logOfComplement(smaller)
}

/** P(T <= t). */
export function tLower(t: number, df: number): number {
  return Math.exp(tLogLower(t, df))
}

/** P(T > t). */
export function tUpper(t: number, df: number): number {
  return Math.exp(tLogLower(-t, df))
}

/** Two-sided p-value of a t statistic. */
export function tTwoSidedP(t: number, df: number): number {
  const { x, y } = shares(t, df)
  return Math.exp(betaLogTails(df / 2, 0.5, x, y).lower)
}

/** The t at which P(T <= t) = p. */
export function tQuantile(p: number, df: number): number {
  requireDf(df)
  if (p === 0.5) return 0
  const logit = betaLogitQuantile(2 * Math.min(p, 1 - p), df / 2, 0.5)
  const t = Math.sqrt(df) * Math.exp(-logit / 2)
  return p < 0.5 ? -t : t
}

function requireDf(df: number): void {
  requireSize("Student's t", "degrees of freedom", df)
}

import { requireNotNegative, requireSize } from "../arguments.ts"
import { betaLogitQuantile } from "./betaDistribution.ts"
import { betaLogTails } from "./incompleteBeta.ts"

/** The F distribution on df1 and df2 degrees of freedom, which may be fractional. With f = (x/df1)/((1 - x)/df2), x has the
 *  beta distribution of df1/2 and df2/2. Source: Abramowitz & Stegun (1964) 26.6.2 (from memory). */

function shares(f: number, df1: number, df2: number): { x: number; y: number } {
  requireNotNegative("The F distribution", "f", f)
  requireSize("The F distribution", "df1", df1)
  requireSize("The F distribution", "df2", df2)
  const odds = (f * df1) / df2
  return { x: odds === Infinity ? 1 : odds / (1 + odds), y: 1 / (1 + odds) }
}

/** log P(X > f), for f >= 0. */
export function fLogUpper(f: number, df1: number, df2: number): number {
  const { x, y } = shares(f, df1, df2)
  return betaLogTails(df1 / 2, df2 / 2, x, y).upper
}

/** P(X > f), for f >= 0. */
export function fUpper(f: number, df1: number, df2: number): number {
  return Math.exp(fLogUpper(f, df1, df2))
}

/** P(X <= f), for f >= 0. */
export function fLower(f: number, df1: number, df2: number): number {
  const { x, y } = shares(f, df1, df2)
  return Math.exp(betaLogTails(df1 / 2, df2 / 2, x, y).lower)
}

/** The f at which P(X <= f) = p. */
export function fQuantile(p: number, df1: number, df2: number): number {
  requireSize("fQuantile", "df1", df1)
  requireSize("fQuantile", "df2", df2)
  return Math.exp(betaLogitQuantile(p, df1 / 2, df2 / 2)) * (df2 / df1)
}

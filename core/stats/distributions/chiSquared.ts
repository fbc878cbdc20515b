import { gammaQuantile } from "./gammaDistribution.ts"
import { gammaLogTails } from "./incompleteGamma.ts"

/** The chi-squared distribution: twice a gamma variable of shape df/2. Degrees of freedom may be fractional. */

/** log P(X > x), for x >= 0. */
export function chiSquaredLogUpper(x: number, df: number): number {
  return gammaLogTails(df / 2, x / 2).upper
}

/** P(X > x), for x >= 0. */
export function chiSquaredUpper(x: number, df: number): number {
  return Math.exp(chiSquaredLogUpper(x, df))
}

/** The x at which P(X <= x) = p. */
export function chiSquaredQuantile(p: number, df: number): number {
  return 2 * gammaQuantile(p, df / 2)
}

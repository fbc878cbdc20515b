import { TAIL, tCritical } from "../confidence.ts"
import { normalQuantile } from "../distributions/normal.ts"

const POWER = 0.8

/** Standard error of a log ratio at which a true ratio of `wishedRatio` is told from 1 in four of five cases (80% power,
 *  two-sided 5%): |log wishedRatio| / (z + .8416). RangeError for a ratio that is not above 0, or is 1. */
export function requiredError(wishedRatio: number): number {
  if (!(wishedRatio > 0 && wishedRatio < Infinity) || wishedRatio === 1) {
    throw new RangeError(`The ratio worth telling must be above 0 and not 1; it was given ${wishedRatio}.`)
  }
  return Math.abs(Math.log(wishedRatio)) / (normalQuantile(1 - TAIL) + normalQuantile(POWER))
}

/** How many times the exposure already spent must be spent in addition so that a true ratio of `wishedRatio` would be told
 *  from 1 in four of five cases (80% power, two-sided 5%), judged by the interval in hand: low and high of a ratio and its
 *  degrees of freedom. 0 if enough has been spent. Null if an end is missing or unbounded, for then the spread is unknown.
 *
 *  The standard error in hand is log(high/low)/(2 t(df)), the one required |log wishedRatio|/(z + .8416), and variance falls
 *  as exposure grows. Source: normal approximation of the power of a log ratio, derived here. */
export function exposureFactorNeeded(
  interval: { low: number | null; high: number | null; df: number | null },
  wishedRatio: number,
): number | null {
  const required = requiredError(wishedRatio)
  const { low, high, df } = interval
  if (low === null || high === null || df === null || df < 1 || !(low > 0 && high < Infinity)) return null
  const inHand = Math.log(high / low) / (2 * tCritical(df))
  return Math.max(0, (inHand / required) ** 2 - 1)
}

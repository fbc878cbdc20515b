import { requireNotNegative, requireSize } from "../arguments.ts"
import { continuedFraction } from "./continuedFraction.ts"
import { type LogTails, tailsFromLower, tailsFromUpper } from "./logTails.ts"
import { logPoissonTerm } from "./saddlePoint.ts"

/** Above this the terms would number some millions; no count comes near it. */
const LARGEST = 1e10

/** The regularised incomplete gamma function, for a above 0 and up to 1e10, and x >= 0, by the power series of the lower tail below x = a + 1 and
 *  the continued fraction of the upper tail above. Both multiply a Poisson term, so the logs hold where the tails are too
 *  small for a double; the number of terms grows like sqrt(a). Source: Abramowitz & Stegun (1964) 6.5.29, 6.5.31 (from
 *  memory); DLMF 8.7.1, 8.9.2. */
export function gammaLogTails(a: number, x: number): LogTails {
  requireSize("The incomplete gamma", "a", a)
  requireNotNegative("The incomplete gamma", "x", x)
  if (a > LARGEST) throw new RangeError(`The incomplete gamma needs a up to ${LARGEST}; it was given ${a}.`)
  if (x === 0) return { lower: -Infinity, upper: 0 }
  if (x > 1e100) return { lower: 0, upper: -x } // the other terms of the log are beyond its last digit
  const term = logPoissonTerm(a, x)
  if (x < a + 1) return tailsFromLower(term + Math.log(lowerSeries(a, x)))
  const fraction = continuedFraction(
    (n) => n * (a - n),
    (n) => x + 1 - a + 2 * n,
  )
  return tailsFromUpper(term + Math.log(a) - Math.log(fraction))
}

function lowerSeries(a: number, x: number): number {
  let term = 1
  let sum = 1
  for (let n = 1; term > sum * 2 ** -54; n++) {
    term *= x / (a + n)
    sum += term
  }
  return sum
}

/** Lower tail P(a, x). */
export function gammaLower(a: number, x: number): number {
  return Math.exp(gammaLogTails(a, x).lower)
}

/** Upper tail Q(a, x) = 1 - P(a, x), accurate where it is small. */
export function gammaUpper(a: number, x: number): number {
  return Math.exp(gammaLogTails(a, x).upper)
}

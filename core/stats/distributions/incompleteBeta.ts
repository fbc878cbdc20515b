import { requireSize, requireShare } from "../arguments.ts"
import { continuedFraction } from "./continuedFraction.ts"
import { type LogTails, tailsFromLower, tailsFromUpper } from "./logTails.ts"
import { logBetaTerm } from "./saddlePoint.ts"

/** Where both parameters are above this the terms would number some millions. */
const LARGEST = 1e10

/** The regularised incomplete beta function I_x(a, b), for a, b > 0, one of them up to 1e10, and x in [0, 1], by the even part of its continued
 *  fraction on the side of the smaller tail. `y` is 1 - x, to be given where x is so near 1 that it has lost digits of it.
 *  The number of terms grows like sqrt(max(a, b)). Sources: DLMF 8.17.22; its even part in Didonato & Morris (1992) ACM
 *  Transactions on Mathematical Software 18:360-373 (from memory). */
export function betaLogTails(a: number, b: number, x: number, y = 1 - x): LogTails {
  requireSize("The incomplete beta", "a", a)
  requireSize("The incomplete beta", "b", b)
  requireShare("The incomplete beta", "x", x)
  if (Math.min(a, b) > LARGEST)
    throw new RangeError(`The incomplete beta needs a or b up to ${LARGEST}; it was given ${a} and ${b}.`)
  if (x === 0) return { lower: -Infinity, upper: 0 }
  if (y === 0) return { lower: 0, upper: -Infinity }
  const term = logBetaTerm(a, b, x, y)
  return a * y - b * x + y - x > 0
    ? tailsFromLower(term - Math.log(fraction(a, b, x, y)))
    : tailsFromUpper(term - Math.log(fraction(b, a, y, x)))
}

function fraction(a: number, b: number, x: number, y: number): number {
  const centre = a * y - b * x + 1
  const denominator = (n: number): number => ((a + n) / (a + 2 * n + 1)) * (centre + n * (1 + y))
  return continuedFraction(
    (n) => {
      const scale = x / (a + 2 * n - 1)
      return (a + n - 1) * scale * ((a + b + n - 1) * scale) * n * (b - n)
    },
    (n) => (n === 0 ? denominator(0) : denominator(n) + n + (n * (b - n) * x) / (a + 2 * n - 1)),
  )
}

/** Lower tail I_x(a, b). */
export function betaLower(a: number, b: number, x: number): number {
  return Math.exp(betaLogTails(a, b, x).lower)
}

/** Upper tail 1 - I_x(a, b), accurate where it is small. */
export function betaUpper(a: number, b: number, x: number): number {
  return Math.exp(betaLogTails(a, b, x).upper)
}

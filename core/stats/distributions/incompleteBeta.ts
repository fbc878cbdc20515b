import { requirePositive, requireShare } from "../arguments.ts"
import { continuedFraction } from "./continuedFraction.ts"
import { type LogTails, tailsFromLower, tailsFromUpper } from "./logTails.ts"
import { logBetaTerm } from "./saddlePoint.ts"

/** The regularised incomplete beta function I_x(a, b), for a, b > 0 and x in [0, 1], by the even part of its continued
 *  fraction on the side of the smaller tail. `y` is 1 - x, to be given where x is so near 1 that it has lost digits of it.
 *  The number of terms grows like sqrt(max(a, b)). Sources: DLMF 8.17.22; its even part in Didonato & Morris (1992) ACM
 *  Transactions on Mathematical Software 18:360-373 (from memory). */
export function betaLogTails(a: number, b: number, x: number, y = 1 - x): LogTails {
  requirePositive("The incomplete beta", "a", a)
  requirePositive("The incomplete beta", "b", b)
  requireShare("The incomplete beta", "x", x)
  if (x === 0) return { lower: -Infinity, upper: 0 }
  if (y === 0) return { lower: 0, upper: -Infinity }
  const term = logBetaTerm(a, b, x, y)
  return a * y - b * x + y - x > 0
    ? tailsFromLower(term - Math.log(fraction(a, b, x, y)))
    : tailsFromUpper(term - Math.log(fraction(b, a, y, x)))
}

function fraction(a: number, b: number, x: number, y: number): number {
  const centre = a * y - b * x + 1
  const denominator = (n: number): number => ((a + n) * (centre + n * (1 + y))) / (a + 2 * n + 1)
  return continuedFraction(
    (n) => (((a + n - 1) * (a + b + n - 1)) / (a + 2 * n - 1) ** 2) * n * (b - n) * x * x,
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

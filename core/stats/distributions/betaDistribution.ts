import { requireSize, requireProbability, requireShare } from "../arguments.ts"
import { betaLogTails } from "./incompleteBeta.ts"
import { normalQuantile } from "./normal.ts"
import { solveIncreasing } from "./quantileSearch.ts"
import { logBetaTerm } from "./saddlePoint.ts"

/** The beta distribution. Its tails are betaLower and betaUpper in incompleteBeta.ts. */

/** log density at x in [0, 1], for a, b > 0. */
export function betaLogDensity(x: number, a: number, b: number): number {
  requireShare("betaLogDensity", "x", x)
  requireSize("betaLogDensity", "a", a)
  requireSize("betaLogDensity", "b", b)
  if (x === 0) return logDensityAtZero(a, b)
  if (x === 1) return logDensityAtZero(b, a)
  return logBetaTerm(a, b, x, 1 - x) - Math.log(x) - Math.log1p(-x)
}

function logDensityAtZero(a: number, b: number): number {
  if (a === 1) return Math.log(b)
  return a < 1 ? Infinity : -Infinity
}

/** The x at which I_x(a, b) = p; 0 where it is too small for a double. */
export function betaQuantile(p: number, a: number, b: number): number {
  return 1 / (1 + Math.exp(-betaLogitQuantile(p, a, b)))
}

/** log(x / (1 - x)) at the x at which I_x(a, b) = p: it keeps the digits of an x near 0 and of one near 1. Newton's method on
 *  the log of the smaller tail, on this scale. */
export function betaLogitQuantile(p: number, a: number, b: number): number {
  requireProbability("betaQuantile", p)
  requireSize("betaQuantile", "a", a)
  requireSize("betaQuantile", "b", b)
  // I_x(a, b) = x^a / (a B(a, b)) times 1 - a (b - 1) x / (a + 1) and so on; likewise from the other end.
  const nearZero = (Math.log(p) - logBetaTermNearZero(a, b)) / a
  if (nearZero < -40 - Math.log(b + 1)) return nearZero
  const nearOne = (Math.log1p(-p) - logBetaTermNearZero(b, a)) / b
  if (nearOne < -40 - Math.log(a + 1)) return -nearOne
  const target = p <= 0.5 ? Math.log(p) : Math.log1p(-p)
  return solveIncreasing(
    (u) => {
      const x = 1 / (1 + Math.exp(-u))
      const y = 1 / (1 + Math.exp(u))
      const tails = betaLogTails(a, b, x, y)
      const tail = p <= 0.5 ? tails.lower : tails.upper
      const slope = Math.exp(logBetaTerm(a, b, x, y) - tail)
      return { value: p <= 0.5 ? tail - target : target - tail, slope }
    },
    Math.log(a / b) + normalQuantile(p) * Math.sqrt(1 / a + 1 / b),
  )
}

/** log of 1 / (a B(a, b)), from the beta term at 1/2. */
function logBetaTermNearZero(a: number, b: number): number {
  return logBetaTerm(a, b, 0.5, 0.5) + (a + b) * Math.LN2 - Math.log(a)
}

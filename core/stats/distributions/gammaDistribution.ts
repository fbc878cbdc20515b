import { requireNotNegative, requireSize, requireProbability } from "../arguments.ts"
import { gammaLogTails } from "./incompleteGamma.ts"
import { normalQuantile } from "./normal.ts"
import { solveIncreasing } from "./quantileSearch.ts"
import { logPoissonTerm } from "./saddlePoint.ts"
import { logGamma } from "../special.ts"

/** The gamma distribution with rate 1. Its tails are gammaLower and gammaUpper in incompleteGamma.ts. */

/** log density at x >= 0, for shape > 0. */
export function gammaLogDensity(x: number, shape: number): number {
  requireNotNegative("gammaLogDensity", "x", x)
  requireSize("gammaLogDensity", "shape", shape)
  if (x > 0) return logPoissonTerm(shape, x) + Math.log(shape) - Math.log(x)
  if (shape === 1) return 0
  return shape < 1 ? Infinity : -Infinity
}

/** The x at which P(shape, x) = p; 0 where it is too small for a double. Newton's method on the log of the smaller tail, on
 *  the scale of log x. */
export function gammaQuantile(p: number, shape: number): number {
  requireProbability("gammaQuantile", p)
  requireSize("gammaQuantile", "shape", shape)
  // P(a, x) = x^a / Gamma(a + 1) times 1 - a x / (a + 1) and so on.
  const nearZero = (Math.log(p) + logGamma(shape + 1)) / shape
  if (nearZero < -40) return Math.exp(nearZero)
  const target = p <= 0.5 ? Math.log(p) : Math.log(1 - p)
  const logX = solveIncreasing(
    (u) => {
      const x = Math.exp(u)
      const tails = gammaLogTails(shape, x)
      const tail = p <= 0.5 ? tails.lower : tails.upper
      const slope = Math.exp(logPoissonTerm(shape, x) + Math.log(shape) - tail)
      return { value: p <= 0.5 ? tail - target : target - tail, slope }
    },
    start(p, shape) ?? nearZero,
  )
  return Math.exp(logX)
}

/** Approximate log quantile of Wilson & Hilferty (1931) (from memory); null where it is not positive. */
function start(p: number, shape: number): number | null {
  const root = 1 - 1 / (9 * shape) + normalQuantile(p) / (3 * Math.sqrt(shape))
  return root > 0 ? Math.log(shape) + 3 * Math.log(root) : null
}

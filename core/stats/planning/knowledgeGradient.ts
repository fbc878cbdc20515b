import { requireNotNegative, requireFinite } from "../arguments.ts"
import { normalDensity, normalLower } from "../distributions/normal.ts"

/** A normal belief about an option's worth, and the standard deviation of what one more unit of trying it would show. */
export type Belief = { readonly mean: number; readonly sd: number; readonly noise: number }

/** For each option, by how much the best expected worth is expected to rise after one more unit of trying that option, given
 *  independent normal beliefs. 0 for a belief without spread and for a lone option. RangeError for a mean or a spread that is
 *  no number. Source: Frazier, Powell & Dayanik (2008) SIAM Journal on Control and Optimization 47:2410-2439 (from memory). */
export function knowledgeGradient(beliefs: readonly Belief[]): Float64Array {
  for (const { mean, sd, noise } of beliefs) {
    requireFinite("A belief", "its mean", mean)
    requireNotNegative("A belief", "a standard deviation", sd)
    requireNotNegative("A belief", "noise", noise)
  }
  return Float64Array.from(beliefs, ({ mean, sd, noise }, i) => {
    if (sd === 0) return 0
    const change = (sd / Math.hypot(sd, noise)) * sd
    const bestOther = beliefs.reduce(
      (best, other, k) => (k === i ? best : Math.max(best, other.mean)),
      -Infinity,
    )
    const gap = Math.abs(mean - bestOther) / change
    const density = normalDensity(gap)
    return density === 0 ? 0 : change * Math.max(0, density - gap * normalLower(-gap))
  })
}

/** Mean and standard deviation of a rate whose log is normal with this mean and standard deviation. */
export function logNormalMoments(logMean: number, logSd: number): { mean: number; sd: number } {
  requireFinite("logNormalMoments", "logMean", logMean)
  requireNotNegative("logNormalMoments", "logSd", logSd)
  const mean = Math.exp(logMean + logSd ** 2 / 2)
  return { mean, sd: mean * Math.sqrt(Math.expm1(logSd ** 2)) }
}

import { TAIL } from "./confidence.ts"
import { gammaQuantile } from "./distributions/gammaDistribution.ts"

/** Exact interval of a Poisson rate, in events per unit of exposure, as if every event came alone; `tail` is the probability
 *  beyond each end. `events` may be a fraction (an effective count). RangeError without exposure. Source: Garwood (1936) Biometrika 28:437-442, in its gamma form. */
export function poissonInterval(
  events: number,
  exposure: number,
  tail = TAIL,
): { low: number; high: number } {
  if (!(exposure > 0))
    throw new RangeError(`An interval of a rate needs exposure above 0; it was given ${exposure}.`)
  return {
    low: events > 0 ? gammaQuantile(tail, events) / exposure : 0,
    high: gammaQuantile(1 - tail, events + 1) / exposure,
  }
}

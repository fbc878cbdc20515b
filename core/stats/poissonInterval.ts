import { TAIL } from "./confidence.ts"
import { gammaQuantile } from "./distributions/gammaDistribution.ts"

/** Exact 95% interval of a Poisson rate, in events per unit of exposure, as if every event came alone. `events` may be a
 *  fraction (an effective count). Source: Garwood (1936) Biometrika 28:437-442, in its gamma form. */
export function poissonInterval(events: number, exposure: number): { low: number; high: number } {
  if (!(exposure > 0))
    throw new RangeError(`An interval of a rate needs exposure above 0; it was given ${exposure}.`)
  return {
    low: events > 0 ? gammaQuantile(TAIL, events) / exposure : 0,
    high: gammaQuantile(1 - TAIL, events + 1) / exposure,
  }
}

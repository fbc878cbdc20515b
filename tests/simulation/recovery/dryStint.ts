import { gamma, type Random, uniform } from "../../../core/stats/random.ts"

/** A longest stretch with one lure, in hours, however well it does. */
const LONGEST = 1.5

/**
 * A stint that ends once nothing has come for `patience` hours. Fish come as a Poisson stream whose rate is `rate` an hour times
 * a gamma of mean 1 and shape `theta`, so that they clump as counts of a negative binomial do.
 */
export function dryStint(
  random: Random,
  rate: number,
  theta: number,
  patience: number,
): { hours: number; fish: number } {
  const own = rate * gamma(random, theta, 1 / theta)
  let [hours, fish] = [0, 0]
  for (;;) {
    const wait = own > 0 ? -Math.log(1 - uniform(random)) / own : Infinity
    const most = Math.min(patience, LONGEST - hours)
    hours += Math.min(wait, most)
    if (wait > most) return { hours, fish }
    fish++
  }
}

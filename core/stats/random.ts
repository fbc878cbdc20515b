import { createHash } from "node:crypto"
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64"
import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus"

/** A stream of random numbers; drawing from it moves it on. */
export type Random = ReturnType<typeof xoroshiro128plusFromState>

/**
 * The stream of this name under this seed: the same two give the same numbers on every machine, whatever other streams
 * are drawn from and in whatever order, and any other seed or name gives numbers that have nothing to do with them. The
 * generator is xoroshiro128+ (Blackman & Vigna); its 128 bits of state are the first of a SHA-256 over seed and name.
 */
export function stream(seed: number, name: string): Random {
  const digest = createHash("sha256").update(`${seed} ${name}`).digest()
  return xoroshiro128plusFromState([0, 4, 8, 12].map((at) => digest.readInt32BE(at)))
}

/** A number from 0 to below 1, in steps of 2^-53. */
export const uniform = (random: Random): number => uniformFloat64(random)

/** A whole number from 0 to `limit` - 1. */
export const below = (random: Random, limit: number): number => Math.floor(uniform(random) * limit)

/** A standard normal number. Source: Box & Muller (1958) Annals of Mathematical Statistics 29:610-611 (from memory). */
export const normal = (random: Random): number =>
  Math.sqrt(-2 * Math.log(1 - uniform(random))) * Math.cos(2 * Math.PI * uniform(random))

/**
 * Gamma with this shape above 0 and this scale (mean shape times scale). Below shape 1 by one of shape + 1. Source:
 * Marsaglia & Tsang (2000) ACM Transactions on Mathematical Software 26:363-372 (from memory).
 */
export function gamma(random: Random, shape: number, scale = 1): number {
  if (!(shape > 0)) throw new RangeError(`A gamma needs a shape above 0; it was given ${shape}.`)
  if (shape < 1) return gamma(random, shape + 1, scale) * (1 - uniform(random)) ** (1 / shape)
  const d = shape - 1 / 3
  const c = 1 / Math.sqrt(9 * d)
  for (;;) {
    const x = normal(random)
    const v = (1 + c * x) ** 3
    if (v > 0 && Math.log(1 - uniform(random)) < 0.5 * x * x + d - d * v + d * Math.log(v))
      return d * v * scale
  }
}

/** A part of a Poisson mean whose chance of no event is still far above the smallest number. */
const POISSON_PART = 500

/**
 * A Poisson count; the time taken grows with the mean. Products of uniforms, in parts. Source: Knuth (1969) The Art of
 * Computer Programming 2, section 3.4.1 (from memory).
 */
export function poisson(random: Random, mean: number): number {
  if (!(mean >= 0 && mean < Infinity))
    throw new RangeError(`A Poisson count needs a finite mean of 0 or more; it was given ${mean}.`)
  let count = 0
  for (let left = mean; left > 0; left -= POISSON_PART) {
    const stop = Math.exp(-Math.min(left, POISSON_PART))
    for (let product = 1 - uniform(random); product > stop; product *= 1 - uniform(random)) count++
  }
  return count
}

/** A negative binomial count with variance mean + mean^2 / theta: a Poisson count whose mean is a gamma. */
export const negativeBinomial = (random: Random, mean: number, theta: number): number =>
  poisson(random, gamma(random, theta, mean / theta))

/**
 * How many of `trials` succeed, each with this probability. The failures before each success are drawn at once, so that
 * the time taken grows with the successes, or with the failures where those are fewer. Source: Devroye (1986) Non-Uniform
 * Random Variate Generation, section X.4 (from memory).
 */
export function binomial(random: Random, trials: number, probability: number): number {
  if (!(probability >= 0 && probability <= 1))
    throw new RangeError(`A binomial count needs a probability from 0 to 1; it was given ${probability}.`)
  if (probability > 0.5) return trials - binomial(random, trials, 1 - probability)
  if (probability === 0) return 0
  const logFailure = Math.log1p(-probability)
  let successes = 0
  for (let at = 0; ; successes++) {
    at += Math.floor(Math.log(1 - uniform(random)) / logFailure) + 1
    if (at > trials) return successes
  }
}

import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64"
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus"
import { normalQuantile } from "../../core/stats/special.ts"

export type Generator = ReturnType<typeof xoroshiro128plus>

/** Generators whose streams do not meet, one for each of `count` parts of a simulation. */
export function generators(seed: number, count: number): Generator[] {
  const first = xoroshiro128plus(seed)
  return Array.from({ length: count }, () => {
    const own = first.clone()
    first.jump()
    return own
  })
}

export function uniform(random: Generator): number {
  return uniformFloat64(random)
}

/** A whole number from 0 to below - 1. */
export function below(random: Generator, limit: number): number {
  return Math.floor(uniform(random) * limit)
}

export function normal(random: Generator): number {
  return normalQuantile((uniform(random) * 2 ** 53 + 0.5) / 2 ** 53)
}

/** Poisson count: products of uniforms (Knuth), in parts of at most 20 so that exp does not underflow. */
export function poisson(random: Generator, mean: number): number {
  let count = 0
  for (let left = mean; left > 0; left -= 20) {
    const stop = Math.exp(-Math.min(left, 20))
    for (let product = uniform(random); product > stop; product *= uniform(random)) count++
  }
  return count
}

/** Gamma with this shape (1 or more) and mean 1. Source: Marsaglia & Tsang (2000) ACM Transactions on Mathematical Software
 *  26:363-372 (from memory). */
export function gammaOfMeanOne(random: Generator, shape: number): number {
  const d = shape - 1 / 3
  const c = 1 / Math.sqrt(9 * d)
  for (;;) {
    const x = normal(random)
    const v = (1 + c * x) ** 3
    if (v > 0 && Math.log(1 - uniform(random)) < 0.5 * x * x + d - d * v + d * Math.log(v))
      return (d * v) / shape
  }
}

/** Negative binomial count with variance mean + mean^2 / theta. */
export function negativeBinomial(random: Generator, mean: number, theta: number): number {
  return poisson(random, mean * gammaOfMeanOne(random, theta))
}

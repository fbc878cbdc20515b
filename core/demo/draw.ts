import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus"
import { below, type Random, uniform } from "../stats/random.ts"

/**
 * A maker of streams that do not meet, in a fixed order for one seed. Every stream has been jumped at least once: seeds
 * that differ by one start out alike.
 */
export function streamsOf(seed: number): () => Random {
  const source = xoroshiro128plus(seed)
  return () => {
    source.jump()
    return source.clone()
  }
}

/** True with the given probability. */
export const chance = (random: Random, probability: number): boolean => uniform(random) < probability

/** A number from `low` to below `high`. */
export const between = (random: Random, low: number, high: number): number =>
  low + (high - low) * uniform(random)

/** A whole number from `low` to `high`, both included. */
export const whole = (random: Random, low: number, high: number): number =>
  low + below(random, high - low + 1)

/** The waiting time of a Poisson process with so many events a unit of time; infinite where there are none. */
export const waitingTime = (random: Random, rate: number): number =>
  rate > 0 ? -Math.log(1 - uniform(random)) / rate : Number.POSITIVE_INFINITY

/** One of the items, each as likely as its weight says. Throws for no items (our bug). */
export function pick<T>(random: Random, items: readonly T[], weightOf: (item: T) => number = () => 1): T {
  const weights = items.map(weightOf)
  let left = uniform(random) * weights.reduce((sum, weight) => sum + weight, 0)
  let chosen: T | undefined
  for (const [i, item] of items.entries()) {
    const weight = weights[i] ?? 0
    if (weight <= 0) continue
    chosen = item
    left -= weight
    if (left < 0) break
  }
  if (chosen === undefined) throw new Error("nothing to pick from")
  return chosen
}

import { benjaminiHochberg } from "../stats/benjaminiHochberg.ts"
import type { Estimator, RatioEstimate } from "./estimate.ts"
import { together, total, type Gathered, type Group } from "./gather.ts"
import { mostFished } from "./levels.ts"

/** Above so many levels each is compared with all others together instead of with each other one. */
export const mostLevelsInPairs = 12
/** Two levels set against one another: `a` the later, `b` the earlier. */
export type Pair = {
  readonly a: Group
  readonly b: Group
  readonly estimate: RatioEstimate
  readonly q: number | null
}

/**
 * Every pair of levels once, or each level against the others above `mostLevelsInPairs`; raw rates with trips as the
 * sample, and Benjamini-Hochberg over the pairs.
 */
export function comparePairs({ levels, trips }: Gathered, estimator: Estimator): Pair[] {
  const pairs =
    levels.length > mostLevelsInPairs
      ? levels.map((a) => {
          const rest = levels.filter((level) => level !== a)
          return { a, b: together("others", rest, trips.length) }
        })
      : levels.flatMap((b, earlier) => levels.slice(earlier + 1).map((a) => ({ a, b })))
  const estimates = pairs.map(({ a, b }) => estimator.ratio(a, b))
  const q = benjaminiHochberg(estimates.map(({ p }) => p))
  return pairs.flatMap((pair, i) => {
    const estimate = estimates[i]
    return estimate === undefined ? [] : [{ ...pair, estimate, q: q[i] ?? null }]
  })
}

/** Levels by rod-hours, most first; ties by exposure, then by name. */
export function byEffort(levels: readonly Group[]): Group[] {
  const labels = levels.map((level) => level.label)
  const exposure = levels.map((level) => total(level.exposure))
  const hours = levels.map((level) => level.rodHours)
  return levels
    .map((_, i) => i)
    .sort((a, b) =>
      hours[a] === hours[b] ? mostFished(a, b, exposure, labels) : mostFished(a, b, hours, labels),
    )
    .flatMap((i) => levels[i] ?? [])
}

/** The pair of the two levels with most rod-hours, whatever came out; null with one level. */
export function leadingPair({ levels }: Gathered, pairs: readonly Pair[]): Pair | null {
  const [first, second] = byEffort(levels)
  const found =
    levels.length > mostLevelsInPairs
      ? pairs.find(({ a }) => a === first)
      : pairs.find(({ a, b }) => (a === first && b === second) || (a === second && b === first))
  return found ?? null
}

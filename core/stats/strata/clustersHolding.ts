import { numbersAt, positionsWhere } from "../positions.ts"

/** Rows with a level each, in strata that lie within clusters; all numbered from 0. */
export type StratifiedLevels = {
  readonly level: Int32Array
  readonly y: Float64Array
  readonly stratum: Int32Array
  readonly cluster: Int32Array
}

export type ClustersHolding = {
  /** Clusters with a stratum that has an event and two levels or more (of `among`, where it is given). */
  informative(among?: readonly number[]): number
  /** Of these, those whose stratum holds this level. */
  holding(level: number): number
  /** Clusters with a stratum that holds both levels and an event of either. */
  both(a: number, b: number): number
  /** Events of a level in the strata that hold both levels. */
  eventsIn(level: number, a: number, b: number): number
}

/** In how many clusters levels can be compared within a stratum, and on how many events. */
export function clustersHolding({ level, y, stratum, cluster }: StratifiedLevels): ClustersHolding {
  const [levels, strata] = [1 + largest(level), 1 + largest(stratum)]
  const clusterOf = new Int32Array(strata)
  const holds = new Uint8Array(levels * strata)
  const events = new Float64Array(levels * strata)
  level.forEach((at, i) => {
    const s = stratum[i] ?? 0
    clusterOf[s] = cluster[i] ?? 0
    holds[at * strata + s] = 1
    events[at * strata + s] = (events[at * strata + s] ?? 0) + (y[i] ?? 0)
  })
  const eventsAt = (at: number, s: number): number => events[at * strata + s] ?? 0
  const holdingBoth = (a: number, b: number): Int32Array =>
    positionsWhere(
      strata,
      (s) =>
        holds[a * strata + s] === 1 && holds[b * strata + s] === 1 && eventsAt(a, s) + eventsAt(b, s) > 0,
    )
  const all = Array.from({ length: levels }, (_, at) => at)
  const tells = (s: number, among: readonly number[] = all): boolean =>
    among.filter((at) => holds[at * strata + s] === 1).length > 1 && among.some((at) => eventsAt(at, s) > 0)
  const clustersOf = (some: Int32Array): number => new Set(numbersAt(clusterOf, some)).size
  return {
    informative: (among) => clustersOf(positionsWhere(strata, (s) => tells(s, among))),
    holding: (at) => clustersOf(positionsWhere(strata, (s) => holds[at * strata + s] === 1 && tells(s))),
    both: (a, b) => clustersOf(holdingBoth(a, b)),
    eventsIn: (wanted, a, b) => holdingBoth(a, b).reduce((sum, s) => sum + eventsAt(wanted, s), 0),
  }
}

const largest = (numbers: Int32Array): number => numbers.reduce((most, value) => Math.max(most, value), -1)

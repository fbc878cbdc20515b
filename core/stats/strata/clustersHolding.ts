/** Rows with a level each, in strata that lie within clusters; all numbered from 0. */
export type StratifiedLevels = {
  readonly level: Int32Array
  readonly y: Float64Array
  readonly stratum: Int32Array
  readonly cluster: Int32Array
}

export type ClustersHolding = {
  /** Clusters with a stratum that has an event and two levels or more. */
  informative(): number
  /** Clusters with a stratum that holds both levels and an event of either. */
  both(a: number, b: number): number
  /** Events of a level in the strata that hold both levels. */
  eventsIn(level: number, a: number, b: number): number
}

/** In how many clusters levels can be compared within a stratum, and on how many events. */
export function clustersHolding({ level, y, stratum, cluster }: StratifiedLevels): ClustersHolding {
  const strata = new Map<number, { cluster: number; events: Map<number, number> }>()
  level.forEach((at, i) => {
    const s = stratum[i] ?? 0
    const own = strata.get(s) ?? { cluster: cluster[i] ?? 0, events: new Map<number, number>() }
    own.events.set(at, (own.events.get(at) ?? 0) + (y[i] ?? 0))
    strata.set(s, own)
  })
  const holdingBoth = (a: number, b: number) =>
    [...strata.values()].filter(
      ({ events }) => events.has(a) && events.has(b) && (events.get(a) ?? 0) + (events.get(b) ?? 0) > 0,
    )
  return {
    informative: () =>
      new Set(
        [...strata.values()]
          .filter(({ events }) => events.size > 1 && [...events.values()].some((count) => count > 0))
          .map((own) => own.cluster),
      ).size,
    both: (a, b) => new Set(holdingBoth(a, b).map((own) => own.cluster)).size,
    eventsIn: (wanted, a, b) =>
      holdingBoth(a, b).reduce((sum, { events }) => sum + (events.get(wanted) ?? 0), 0),
  }
}

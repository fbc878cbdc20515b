import type { Side } from "../../stats/inference/adjustedContrast.ts"
import type { ModelRows } from "./modelRows.ts"

/** What stands behind one level in a model's rows: events (of a share the fewer of events and failures, of lengths the
 *  fish), the clusters that hold one, rows and weight. */
export type LevelTold = Side & {
  readonly rows: number
  readonly weight: number
  /** Events, of a share not the failures. */
  readonly successes: number
}

/** Of each level, numbered from 0 by `code` (a row each; others count nowhere), what there is to tell. */
export function levelsTold(
  { family, y, trials, weight }: ModelRows,
  code: ArrayLike<number>,
  cluster: ArrayLike<number>,
  levels: number,
): LevelTold[] {
  const told = Array.from({ length: levels }, () => ({
    rows: 0,
    events: 0,
    outOf: 0,
    weight: 0,
    clusters: new Set<number>(),
  }))
  y.forEach((value, i) => {
    const own = told[code[i] ?? -1]
    if (own === undefined) return
    const events = family === "gaussian" ? 1 : value
    own.rows++
    own.events += events
    own.outOf += trials?.[i] ?? 0
    own.weight += weight[i] ?? 0
    if (events > 0) own.clusters.add(cluster[i] ?? -1)
  })
  return told.map(({ rows, events, outOf, weight: total, clusters }) => ({
    rows,
    events: trials === undefined ? events : Math.min(events, outOf - events),
    successes: events,
    weight: total,
    clusters: [...clusters],
  }))
}

/** Several levels taken as one side of a contrast. */
export const sidesTogether = (sides: readonly Side[]): Side => ({
  events: sides.reduce((sum, { events }) => sum + events, 0),
  clusters: [...new Set(sides.flatMap(({ clusters }) => clusters))],
})

/** What a model has to spend on columns: events; of a share or a chance the fewer of events and failures, of lengths the fish. */
export function eventsToSpend({ family, y, trials }: ModelRows): number {
  if (family === "gaussian") return y.length
  const events = y.reduce((sum, value) => sum + value, 0)
  if (trials !== undefined) return Math.min(events, trials.reduce((sum, n) => sum + n, 0) - events)
  return family === "binomial cloglog" ? Math.min(events, y.length - events) : events
}

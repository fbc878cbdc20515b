import { positionsWhere } from "../../stats/positions.ts"
import type { Prepared } from "../prepare.ts"
import { stratumOf, type Stratum } from "./fitWithin.ts"
import { pickRows, type ModelRows } from "./modelRows.ts"

/**
 * The rows of strata with an event and two rows or more, and of these strata those with two levels or more (`ofLevels`). Strata of
 * one level tell nothing of the levels, but of what is held alike, and so take from a difference what is its.
 */
export function strataTelling(
  prepared: Prepared,
  rows: ModelRows,
  codes: Float64Array,
  stratum: Stratum,
): { readonly rows: ModelRows; readonly ofLevels: ModelRows } {
  type Seen = { rows: number; events: number; readonly first: number; several: boolean }
  const seen = new Map<number, Seen>()
  rows.stint.forEach((stint, i) => {
    const key = stratumOf(prepared, stint, stratum)
    const level = codes[stint] ?? Number.NaN
    const own = seen.get(key) ?? { rows: 0, events: 0, first: level, several: false }
    own.rows++
    own.events += rows.y[i] ?? 0
    own.several ||= level !== own.first
    seen.set(key, own)
  })
  const of = (tells: (own: Seen) => boolean): ModelRows =>
    pickRows(
      rows,
      positionsWhere(rows.stint.length, (i) => {
        const own = seen.get(stratumOf(prepared, rows.stint[i] ?? -1, stratum))
        return own !== undefined && own.events > 0 && tells(own)
      }),
    )
  return { rows: of((own) => own.rows > 1), ofLevels: of(({ several }) => several) }
}

/** Levels with events that can be compared with each other through shared strata, in groups. */
export function connected(
  prepared: Prepared,
  rows: ModelRows,
  codes: Float64Array,
  levels: number,
  stratum: Stratum,
): number[][] {
  const events = new Float64Array(levels)
  rows.stint.forEach((stint, i) => {
    const level = codes[stint] ?? -1
    events[level] = (events[level] ?? 0) + (rows.y[i] ?? 0)
  })
  const parent = Array.from({ length: levels }, (_, level) => level)
  const root = (level: number): number => {
    const up = parent[level] ?? level
    return up === level ? level : root(up)
  }
  const firstIn = new Map<number, number>()
  for (const stint of rows.stint) {
    const level = codes[stint] ?? -1
    if ((events[level] ?? 0) === 0) continue
    const key = stratumOf(prepared, stint, stratum)
    const first = firstIn.get(key)
    if (first === undefined) firstIn.set(key, level)
    else parent[root(level)] = root(first)
  }
  const groups = Map.groupBy(
    parent.map((_, level) => level).filter((level) => (events[level] ?? 0) > 0),
    root,
  )
  return [...groups.values()].filter((group) => group.length > 1)
}

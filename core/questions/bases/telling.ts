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
  const strata = new Int32Array(rows.stint.length)
  let count = 0
  for (let i = 0; i < strata.length; i++) {
    const key = stratumOf(prepared, rows.stint[i] ?? -1, stratum)
    strata[i] = key
    count = Math.max(count, key + 1)
  }
  const held = new Int32Array(count)
  const events = new Float64Array(count)
  const first = new Float64Array(count)
  const several = new Uint8Array(count)
  for (let i = 0; i < strata.length; i++) {
    const key = strata[i] ?? -1
    const level = codes[rows.stint[i] ?? -1] ?? Number.NaN
    if (held[key] === 0) first[key] = level
    else if (level !== first[key]) several[key] = 1
    held[key] = (held[key] ?? 0) + 1
    events[key] = (events[key] ?? 0) + (rows.y[i] ?? 0)
  }
  const of = (tells: (key: number) => boolean): ModelRows =>
    pickRows(
      rows,
      positionsWhere(strata.length, (i) => (events[strata[i] ?? -1] ?? 0) > 0 && tells(strata[i] ?? -1)),
    )
  return { rows: of((key) => (held[key] ?? 0) > 1), ofLevels: of((key) => several[key] === 1) }
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

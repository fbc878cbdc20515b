import { entities, type Entity } from "../../shared/entities.ts"
import { type OpenChange, put, rowById } from "../store/put.ts"

/** Writes the cells of a row that differ from what stands. Returns whether any did. */
export function patch(change: OpenChange, entity: Entity, id: string, cells: object): boolean {
  if (Object.keys(cells).length === 0) return false
  const row = rowById(change.db, entity, id)
  if (row === null) throw new Error(`no ${entity} ${id}`)
  const standing = new Map<string, unknown>(Object.entries(row))
  const differs = Object.entries(cells).some(([column, value]) => standing.get(column) !== value)
  if (differs) put(change, entity, entities[entity].parse({ ...row, ...cells }))
  return differs
}

/** The columns in which two rows differ, with what they are after. */
export function differing<T extends object, K extends keyof T>(
  before: T,
  after: T,
  columns: readonly K[],
): { [C in K]?: T[C] } {
  const cells: { [C in K]?: T[C] } = {}
  for (const column of columns) if (before[column] !== after[column]) cells[column] = after[column]
  return cells
}

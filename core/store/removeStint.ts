import { z } from "zod"
import { type OpenChange, removeById } from "./put.ts"

/** Removes a stint with its strikes and its own readings. */
export function removeStint(change: OpenChange, id: string): void {
  const ids = (sql: string): string[] => z.array(z.string()).parse(change.db.prepare(sql).pluck().all(id))
  for (const strike of ids("SELECT id FROM strike WHERE stint_id = ? AND deleted_at IS NULL"))
    removeById(change, "strike", strike)
  for (const reading of ids("SELECT id FROM observation WHERE stint_id = ? AND deleted_at IS NULL"))
    removeById(change, "observation", reading)
  removeById(change, "stint", id)
}

import type { Database } from "better-sqlite3"
import { z } from "zod"
import type { Entity } from "../../../shared/entities.ts"
import type { Deleted } from "../../../shared/history.ts"

const Entry = z.object({
  at: z.int(),
  batch: z.string(),
  before: z.string().nullable(),
  after: z.string().nullable(),
})
const Cells = z.record(z.string(), z.unknown())

/** How a record came to be what it is, oldest first: each act with the columns it changed. The first made it. */
export function versionsOf(
  db: Database,
  entity: Entity,
  id: string,
): { at: number; act: string; changes: { column: string; before: unknown; after: unknown }[] }[] {
  const entries = z
    .array(Entry)
    .parse(
      db
        .prepare("SELECT at, batch, before, after FROM change WHERE entity = ? AND entity_id = ? ORDER BY id")
        .all(entity, id),
    )
  return entries.map(({ at, batch, before, after }) => ({
    at,
    act: batch,
    changes: differences(before, after),
  }))
}

function differences(before: string | null, after: string | null) {
  if (before === null || after === null) return []
  const [was, is] = [Cells.parse(JSON.parse(before)), Cells.parse(JSON.parse(after))]
  return [...new Set([...Object.keys(was), ...Object.keys(is)])]
    .filter((column) => was[column] !== is[column])
    .map((column) => ({ column, before: was[column] ?? null, after: is[column] ?? null }))
}

const DeletedRow = z.object({ entity: z.string(), id: z.string(), name: z.string(), at: z.int() })
const mostListed = 200

/** What is deleted and has a name to be found by, or a date; latest first. What an import's taking back removed is left out. */
export const deletedThings = (db: Database): Deleted[] =>
  z.array(DeletedRow).parse(
    db
      .prepare(
        `SELECT * FROM (
           SELECT 'trip' AS entity, id, date || coalesce(' ' || label, '') AS name, deleted_at AS at FROM trip
           UNION ALL SELECT 'spot', id, name, deleted_at FROM spot
           UNION ALL SELECT 'presentation', id, name, deleted_at FROM presentation
           UNION ALL SELECT 'species', id, name, deleted_at FROM species
           UNION ALL SELECT 'angler', id, name, deleted_at FROM angler
           UNION ALL SELECT 'track', id, coalesce(name, 'track of ' || date(start_at / 1000, 'unixepoch'), 'track'), deleted_at FROM track
           UNION ALL SELECT 'own_station', id, name, deleted_at FROM own_station
         )
         WHERE at IS NOT NULL AND id NOT IN (
           SELECT entity_id FROM change WHERE before IS NULL AND batch IN (SELECT id FROM import_batch)
         )
         ORDER BY at DESC LIMIT ${mostListed}`,
      )
      .all(),
  )

import type { Database } from "better-sqlite3"
import { z } from "zod"
import { isEntity, type Entity } from "../../../shared/entities.ts"
import { Act } from "../../../shared/history.ts"

const Part = z.object({
  act: z.string(),
  at: z.int(),
  entity: z.string(),
  rows: z.int(),
  made: z.int(),
  removed: z.int(),
  imported: z.int(),
  one: z.string(),
})

/** Tables whose rows have a name to call them by. */
const named: ReadonlySet<Entity> = new Set<Entity>([
  "angler",
  "spot",
  "species",
  "lure",
  "rig",
  "presentation",
  "own_station",
])

/** The latest acts in a logbook's history, newest first. */
export function latestActs(db: Database, count: number): Act[] {
  const parts = z.array(Part).parse(
    db
      .prepare(
        `SELECT batch AS act, max(at) AS at, entity, count(DISTINCT entity_id) AS rows,
           sum(before IS NULL) AS made, sum(json_extract(after, '$.deleted_at') IS NOT NULL) AS removed,
           batch IN (SELECT id FROM import_batch) AS imported, max(entity_id) AS one
         FROM change WHERE batch IN (SELECT DISTINCT batch FROM change ORDER BY batch DESC LIMIT ?)
         GROUP BY batch, entity ORDER BY batch DESC, max(id) DESC`,
      )
      .all(count),
  )
  return [...Map.groupBy(parts, ({ act }) => act)].map(([act, of]) => ({
    act,
    at: of[0]?.at ?? 0,
    imported: of.some(({ imported }) => imported === 1),
    changes: of.map(({ entity, rows, made, removed, one }) => ({
      entity,
      rows,
      did: made === rows ? ("made" as const) : removed === rows ? ("removed" as const) : ("changed" as const),
      name: rows === 1 && isEntity(entity) && named.has(entity) ? nameOf(db, entity, one) : null,
    })),
  }))
}

const nameOf = (db: Database, entity: Entity, id: string): string | null =>
  z
    .string()
    .nullable()
    .catch(null)
    .parse(db.prepare(`SELECT name FROM ${entity} WHERE id = ?`).pluck().get(id))

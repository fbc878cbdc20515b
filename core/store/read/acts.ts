import type { Database } from "better-sqlite3"
import { z } from "zod"
import { entityText } from "../../../shared/entityText.ts"
import { listed } from "../../../shared/figures.ts"
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
  said: z.string().nullable(),
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
  "track",
])

/** The latest acts in a logbook's history, newest first. */
export const latestActs = (db: Database, count: number): Act[] =>
  actsIn(db, "SELECT DISTINCT batch FROM change ORDER BY batch DESC LIMIT ?", count)

/** One act of the history; null where there is none. */
export const oneAct = (db: Database, act: string): Act | null => actsIn(db, "SELECT ?", act)[0] ?? null

function actsIn(db: Database, batches: string, argument: string | number): Act[] {
  const parts = z.array(Part).parse(
    db
      .prepare(
        `SELECT change.batch AS act, max(change.at) AS at, entity, count(DISTINCT entity_id) AS rows,
           sum(before IS NULL) AS made, sum(json_extract(after, '$.deleted_at') IS NOT NULL) AS removed,
           change.batch IN (SELECT id FROM import_batch) AS imported, max(entity_id) AS one, act.said
         FROM change LEFT JOIN act ON act.batch = change.batch
         WHERE change.batch IN (${batches})
         GROUP BY change.batch, entity ORDER BY change.batch DESC, max(change.id) DESC`,
      )
      .all(argument),
  )
  return [...Map.groupBy(parts, ({ act }) => act)].map(([act, of]) => {
    const changes = of.map(({ entity, rows, made, removed, one }) => ({
      entity,
      rows,
      did: made === rows ? ("made" as const) : removed === rows ? ("removed" as const) : ("changed" as const),
      name: rows === 1 && isEntity(entity) && named.has(entity) ? nameOf(db, entity, one) : null,
    }))
    return {
      act,
      at: of[0]?.at ?? 0,
      imported: of.some(({ imported }) => imported === 1),
      said: of[0]?.said ?? sayChanges(changes),
      changes,
    }
  })
}

/** What an act did: "made spot Marsh drain", "changed 3 stints". */
const sayChanges = (changes: Act["changes"]): string =>
  listed(
    changes.map(
      ({ entity, did, rows, name }) =>
        `${did} ${name === null ? entityText(entity, rows) : `${entity.replaceAll("_", " ")} ${name}`}`,
    ),
    6,
  )

const nameOf = (db: Database, entity: Entity, id: string): string | null =>
  z
    .string()
    .nullable()
    .catch(null)
    .parse(db.prepare(`SELECT name FROM ${entity} WHERE id = ?`).pluck().get(id))

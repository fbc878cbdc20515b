import type { Database } from "better-sqlite3"
import { z } from "zod"
import { isEntity, type Entity } from "../../../shared/entities.ts"

const Line = z.object({ line: z.int() }).optional()

/** Looks up rows of earlier imports that were not taken back, by hash: the line they stood on, or null. */
export function knownRows(db: Database): {
  row(hash: string): number | null
  stint(hash: string): number | null
} {
  const live = `FROM import_row JOIN import_batch ON import_batch.id = import_row.import_batch_id
                WHERE import_batch.taken_back_at IS NULL AND`
  const byRow = db.prepare(`SELECT line ${live} hash = ? LIMIT 1`)
  const byStint = db.prepare(`SELECT line ${live} stint_hash = ? LIMIT 1`)
  return {
    row: (hash) => Line.parse(byRow.get(hash))?.line ?? null,
    stint: (hash) => Line.parse(byStint.get(hash))?.line ?? null,
  }
}

/** Keeps the hashes of an imported row, so that importing it again adds nothing. */
export function rememberRow(
  db: Database,
  batch: string,
): (row: { hash: string; stint_hash: string; line: number }) => void {
  const insert = db.prepare(
    "INSERT INTO import_row (import_batch_id, hash, stint_hash, line) VALUES (?, ?, ?, ?)",
  )
  return (row) => void insert.run(batch, row.hash, row.stint_hash, row.line)
}

const Touched = z.array(z.object({ entity: z.string(), id: z.string(), edited: z.int() }))

/** The rows that an act made and that are still there, each with whether a later act changed it. */
export function rowsMadeBy(db: Database, batch: string): { entity: Entity; id: string; edited: boolean }[] {
  const rows = Touched.parse(
    db
      .prepare(
        `SELECT made.entity, made.entity_id AS id,
                EXISTS (SELECT 1 FROM change AS later
                        WHERE later.entity_id = made.entity_id AND later.batch <> made.batch) AS edited
         FROM change AS made
         WHERE made.batch = ? AND made.before IS NULL
         ORDER BY made.id`,
      )
      .all(batch),
  )
  return rows.flatMap(({ entity, id, edited }) =>
    isEntity(entity) ? [{ entity, id, edited: edited === 1 }] : [],
  )
}

/** Which row each live row stands on, by the foreign keys of the record; what was only worked out stands on nothing. */
export function standingOn(db: Database): { child: string; childEntity: Entity; parent: string }[] {
  const links: readonly (readonly [Entity, string])[] = [
    ["strike", "stint_id"],
    ["strike", "species_id"],
    ["observation", "stint_id"],
    ["observation", "trip_id"],
    ["observation", "stop_id"],
    ["computed", "stint_id"],
    ["stint", "stop_id"],
    ["stint", "presentation_id"],
    ["stint", "angler_id"],
    ["stop", "trip_id"],
    ["stop", "spot_id"],
    ["trip_angler", "trip_id"],
    ["trip_angler", "angler_id"],
    ["trip", "target_species_id"],
    ["presentation", "lure_id"],
    ["presentation", "rig_id"],
    ["presentation", "retrieve_id"],
    ["lure", "lure_class_id"],
  ]
  const Pairs = z.array(z.tuple([z.string(), z.string()]))
  return links.flatMap(([childEntity, column]) =>
    Pairs.parse(
      db
        .prepare(
          `SELECT id, ${column} FROM ${childEntity} WHERE deleted_at IS NULL AND ${column} IS NOT NULL
           ${childEntity === "computed" ? "AND method = 'imported'" : ""}`,
        )
        .raw()
        .all(),
    ).map(([child, parent]) => ({ child, childEntity, parent })),
  )
}

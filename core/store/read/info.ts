import type { Database } from "better-sqlite3"
import { z } from "zod"
import { PastImport } from "../../../shared/imports.ts"

const Counts = z.object({ trips: z.int(), stops: z.int(), stints: z.int(), strikes: z.int() })
/** How much the logbook holds, deleted rows left out. */
export function countRows(db: Database): z.infer<typeof Counts> {
  return Counts.parse(
    db
      .prepare(
        `SELECT (SELECT count(*) FROM trip WHERE deleted_at IS NULL) AS trips,
                (SELECT count(*) FROM stop WHERE deleted_at IS NULL) AS stops,
                (SELECT count(*) FROM stint WHERE deleted_at IS NULL) AS stints,
                (SELECT count(*) FROM strike WHERE deleted_at IS NULL) AS strikes`,
      )
      .get(),
  )
}

/** Every import, newest first. */
export function importBatches(db: Database): PastImport[] {
  return z
    .array(PastImport)
    .parse(
      db
        .prepare(
          "SELECT id, files, created_at AS at, stints_added, readings_added, tracks_added, taken_back_at FROM import_batch ORDER BY id DESC",
        )
        .all(),
    )
}

/** Whether anything was ever entered. */
export const hasHistory = (db: Database): boolean =>
  db.prepare("SELECT 1 FROM change LIMIT 1").get() !== undefined

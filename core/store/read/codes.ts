import type { Database } from "better-sqlite3"
import { z } from "zod"
import { Coded, type CodedEver } from "../../../shared/codes.ts"

const Row = Coded.omit({ retired: true }).extend({ retired: z.int(), deleted: z.int() })

/** Everything that a day names, in one list: spots, presentations, species and anglers, deleted ones too. */
export const codedRows = (db: Database): CodedEver[] =>
  z
    .array(Row)
    .parse(
      db
        .prepare(
          `SELECT 'spot' AS kind, id, name, code, NULL AS mark, 0 AS retired, deleted_at IS NOT NULL AS deleted FROM spot
           UNION ALL SELECT 'presentation', id, name, code, mark, retired_at IS NOT NULL, deleted_at IS NOT NULL FROM presentation
           UNION ALL SELECT 'species', id, name, code, NULL, 0, deleted_at IS NOT NULL FROM species
           UNION ALL SELECT 'angler', id, name, code, NULL, 0, deleted_at IS NOT NULL FROM angler`,
        )
        .all(),
    )
    .map((row) => ({ ...row, retired: row.retired === 1, deleted: row.deleted === 1 }))

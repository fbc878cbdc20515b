import type { Database } from "better-sqlite3"
import { z } from "zod"

const Row = z.object({ year: z.int(), trips: z.int() })

/** The years in which there were trips that took place, latest first, with how many. */
export const tripsByYear = (db: Database): z.infer<typeof Row>[] =>
  z.array(Row).parse(
    db
      .prepare(
        `SELECT CAST(substr(date, 1, 4) AS INTEGER) AS year, count(*) AS trips FROM trip
         WHERE deleted_at IS NULL AND status <> 'planned' GROUP BY 1 ORDER BY 1 DESC`,
      )
      .all(),
  )

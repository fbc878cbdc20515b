import type { Database, Statement } from "better-sqlite3"
import { newId } from "./ids.ts"
import { z } from "zod"

/** Values worked out from place and time, by column of `computed`. */
export type WorkedOut = { readonly hour_local: number }

const inserts = new WeakMap<Database, Statement>()

/**
 * Stores what was worked out for a stint. It follows from the record and may be dropped and made again at any time, so
 * it leaves no entry in the history; what was imported is a record and goes through `put`.
 */
export function storeWorkedOut(db: Database, stintId: string, method: string, values: WorkedOut): void {
  let insert = inserts.get(db)
  if (!insert) {
    insert = db.prepare(
      `INSERT INTO computed (id, created_at, updated_at, stint_id, method, hour_local)
       VALUES (@id, @at, @at, @stint_id, @method, @hour_local)`,
    )
    inserts.set(db, insert)
  }
  insert.run({ id: newId(), at: Date.now(), stint_id: stintId, method, ...values })
}

/** Forgets everything that was worked out. Imported conditions stay. */
export function dropWorkedOut(db: Database): void {
  db.prepare("DELETE FROM computed WHERE method <> 'imported'").run()
}

const StintTimes = z.array(
  z.object({ id: z.string(), start_at: z.int().nullable(), end_at: z.int().nullable(), zone: z.string() }),
)

/** When and in which zone every stint was fished. */
export function stintTimes(db: Database): z.infer<typeof StintTimes> {
  return StintTimes.parse(
    db.prepare("SELECT stint_id AS id, start_at, end_at, trip_zone AS zone FROM stint_fact").all(),
  )
}

/** Whether anything was worked out by another method than the present one. */
export function hasOtherMethod(db: Database, method: string): boolean {
  return (
    db.prepare("SELECT 1 FROM computed WHERE method NOT IN ('imported', ?) LIMIT 1").get(method) !== undefined
  )
}

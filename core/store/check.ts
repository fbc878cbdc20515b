import type { Database } from "better-sqlite3"
import { z } from "zod"

const Lines = z.array(z.array(z.union([z.string(), z.number(), z.null()])))

/** Looks through the whole file for damage: SQLite's own integrity check and dangling references. Empty when sound. */
export function checkFile(db: Database): string[] {
  const integrity = Lines.parse(db.prepare("PRAGMA integrity_check").raw().all()).map(([line]) =>
    String(line),
  )
  const dangling = Lines.parse(db.prepare("PRAGMA foreign_key_check").raw().all()).map(
    ([table, , parent]) => `A row of ${table} points at a missing row of ${parent}.`,
  )
  return [...integrity.filter((line) => line !== "ok"), ...dangling]
}

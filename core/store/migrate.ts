import { createHash } from "node:crypto"
import { readdirSync, readFileSync } from "node:fs"
import type { Database } from "better-sqlite3"
import { z } from "zod"
import { ProblemError } from "../../shared/problems.ts"

/** One numbered SQL file of `migrations/`. */
export type Migration = {
  readonly number: number
  readonly name: string
  readonly sql: string
  readonly sha256: string
}

const folder = new URL("../../migrations/", import.meta.url)
const Applied = z.array(z.object({ number: z.int(), name: z.string(), sha256: z.string() }))

/** The migrations this version knows, in order. Throws when their numbers do not run 1, 2, 3 ... (our bug). */
export function knownMigrations(): Migration[] {
  const names = readdirSync(folder)
    .filter((name) => /^\d{4}_\w+\.sql$/.test(name))
    .toSorted()
  return names.map((name, i) => {
    const number = Number(name.slice(0, 4))
    if (number !== i + 1) throw new Error(`migration ${name} should have number ${i + 1}`)
    const sql = readFileSync(new URL(name, folder), "utf8")
    return { number, name, sql, sha256: createHash("sha256").update(sql).digest("hex") }
  })
}

/**
 * Brings a logbook up to the newest of `migrations`: each in one transaction with its checksum, `user_version` being
 * the number of the last. Throws a ProblemError when what was applied to the file differs from what is known.
 */
export function migrate(db: Database, file: string, migrations: readonly Migration[]): void {
  db.exec(
    `CREATE TABLE IF NOT EXISTS migration (
       number INTEGER NOT NULL PRIMARY KEY,
       name TEXT NOT NULL,
       sha256 TEXT NOT NULL,
       applied_at INTEGER NOT NULL
     ) STRICT`,
  )
  const applied = Applied.parse(
    db.prepare("SELECT number, name, sha256 FROM migration ORDER BY number").all(),
  )
  for (const [i, was] of applied.entries()) {
    const known = migrations[i]
    if (known?.number !== was.number || known.sha256 !== was.sha256)
      throw new ProblemError(
        "damaged_logbook",
        `${file} was made with migration ${was.name} (${was.sha256.slice(0, 8)}), but this version knows ` +
          `${known ? `${known.name} (${known.sha256.slice(0, 8)})` : "no such migration"}. ` +
          `Open it with the version that made it; nothing was changed.`,
        { file },
      )
  }
  const record = db.prepare("INSERT INTO migration (number, name, sha256, applied_at) VALUES (?, ?, ?, ?)")
  for (const migration of migrations.slice(applied.length)) {
    db.transaction(() => {
      db.exec(migration.sql)
      record.run(migration.number, migration.name, migration.sha256, Date.now())
      db.pragma(`user_version = ${migration.number}`)
    })()
  }
}

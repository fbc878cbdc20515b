import { existsSync, readFileSync, statSync } from "node:fs"
import { dirname, resolve } from "node:path"
import Database from "better-sqlite3"
import { ProblemError } from "../../shared/problems.ts"
import { backUpFile } from "./backup.ts"
import { knownMigrations, migrate, type Migration } from "./migrate.ts"
import { asProblem } from "./sqliteProblems.ts"
import { observedColumns, registerCarrying } from "./views/observed.ts"

/** "Stnt" in ASCII: marks a SQLite file as a Stintbook logbook. */
export const applicationId = 0x53746e74

/** How long to wait for another program's write before saying that the file is locked. */
const busyMilliseconds = 3000

/** Page cache: enough that a large import does not read back what it has just written. */
const cacheKibibytes = 65_536

/** Why a logbook may only be read, in a sentence that also says what to do. */
export type ReadOnly = { readonly code: "newer_logbook" | "read_only"; readonly message: string }

/** An open logbook file; `readOnly` is null where it may be written. */
export type OpenFile = {
  readonly db: Database.Database
  readonly file: string
  readonly readOnly: ReadOnly | null
}

/**
 * Makes a new, empty logbook. Throws a ProblemError when the file exists or its folder cannot be written.
 */
export function createLogbook(path: string): OpenFile {
  const file = resolve(path)
  if (existsSync(file))
    throw new ProblemError(
      "file_exists",
      `${file} exists already. Choose another name; it was left as it is.`,
      {
        file,
      },
    )
  if (!existsSync(dirname(file)))
    throw new ProblemError("file_missing", `There is no folder ${dirname(file)}. Make it first.`, { file })
  return attempt(file, () => {
    const db = new Database(file)
    db.pragma(`application_id = ${applicationId}`)
    return ready(db, file, knownMigrations())
  })
}

/**
 * Opens a logbook, brings it up to date (after a backup) and prepares its views. A logbook of a newer version is
 * opened to read only, and so is one where `readOnly` gives the reason: it is then left as it is. Throws a ProblemError
 * for a folder, a missing file, a file that is no logbook, a damaged or a locked one.
 */
export async function openLogbook(path: string, readOnly: ReadOnly | null = null): Promise<OpenFile> {
  const file = resolve(path)
  const found = statSync(file, { throwIfNoEntry: false })
  if (found === undefined)
    throw new ProblemError("file_missing", `There is no file ${file}. "new" makes an empty logbook.`, {
      file,
    })
  if (!found.isFile())
    throw new ProblemError("not_a_file", `${file} is a folder. Name a logbook file in it.`, { file })
  const migrations = knownMigrations()
  const version = attempt(file, () => versionOf(file))
  if (version > migrations.length) return attempt(file, () => toRead(file, newer(file)))
  if (readOnly !== null && version < migrations.length)
    throw new ProblemError(
      "read_only",
      `${file} is of an older version and must be brought up to date before it can be read. ${readOnly.message}`,
      { file },
    )
  if (readOnly !== null) return attempt(file, () => toRead(file, readOnly))
  if (version < migrations.length) await backUpFile(file, "before-upgrade")
  return attempt(file, () => ready(new Database(file, { fileMustExist: true }), file, migrations))
}

/** The file's schema number; refuses what is not a logbook without writing to it. */
function versionOf(file: string): number {
  const db = new Database(file, { readonly: true })
  try {
    db.pragma(`busy_timeout = ${busyMilliseconds}`)
    if (db.pragma("application_id", { simple: true }) !== applicationId)
      throw new ProblemError(
        "not_a_logbook",
        `${file} is not a Stintbook logbook. Nothing was changed. To bring a table in, make a logbook and import it.`,
        { file },
      )
    return Number(db.pragma("user_version", { simple: true }))
  } finally {
    db.close()
  }
}

const newer = (file: string): ReadOnly => ({
  code: "newer_logbook",
  message: `${file} was written by a newer version of Stintbook, so it is open to read only. Update to change it.`,
})

function toRead(file: string, readOnly: ReadOnly): OpenFile {
  const db = new Database(file, { readonly: true })
  db.pragma(`busy_timeout = ${busyMilliseconds}`)
  rebuildViews(db)
  return { db, file, readOnly }
}

function ready(db: Database.Database, file: string, migrations: readonly Migration[]): OpenFile {
  try {
    db.pragma(`busy_timeout = ${busyMilliseconds}`)
    db.pragma("journal_mode = WAL")
    db.pragma("synchronous = FULL")
    db.pragma("foreign_keys = ON")
    db.pragma("trusted_schema = OFF")
    db.pragma(`cache_size = -${cacheKibibytes}`)
    migrate(db, file, migrations)
    rebuildViews(db)
    return { db, file, readOnly: null }
  } catch (error) {
    db.close()
    throw error
  }
}

/** Views are code: made anew on every connection, so that they can never be older than the program that reads them. */
function rebuildViews(db: Database.Database): void {
  registerCarrying(db)
  for (const name of ["stint_fact", "strike_fact"])
    db.exec(
      readFileSync(new URL(`./views/${name}.sql`, import.meta.url), "utf8").replace(
        "/* observed factors: observed.ts */",
        observedColumns,
      ),
    )
}

function attempt<T>(file: string, act: () => T): T {
  try {
    return act()
  } catch (error) {
    throw asProblem(error, file)
  }
}

import { closeSync, openSync, readSync } from "node:fs"
import Database from "better-sqlite3"
import { applicationId } from "./open.ts"
import { settingOf } from "./read/names.ts"

/** Where SQLite's header keeps the application's number. Source: SQLite database file format, section 1.3. */
const applicationIdAt = 68

/**
 * Whether a file is a logbook with a setting of this key. Nothing is written to it, and what is no logbook is not opened as
 * one. False where it cannot be told. The connection may write so that closing it leaves no file beside the logbook, as one
 * opened to read would.
 */
export function hasSetting(file: string, key: string): boolean {
  try {
    if (!isLogbook(file)) return false
    const db = new Database(file, { fileMustExist: true, timeout: 100 })
    try {
      db.pragma("query_only = ON")
      return settingOf(db, key) !== null
    } finally {
      db.close()
    }
  } catch {
    return false
  }
}

function isLogbook(file: string): boolean {
  const handle = openSync(file, "r")
  try {
    const bytes = Buffer.alloc(4)
    return readSync(handle, bytes, 0, 4, applicationIdAt) === 4 && bytes.readUInt32BE() === applicationId
  } finally {
    closeSync(handle)
  }
}

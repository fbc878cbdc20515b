import Database from "better-sqlite3"
import { ProblemError } from "../../shared/problems.ts"

/** Whether what was thrown about a logbook file says that the file itself is spoilt. */
export function isDamage(error: unknown): boolean {
  const code =
    error instanceof ProblemError
      ? error.problem.code
      : error instanceof Database.SqliteError
        ? error.code
        : ""
  return (
    ["damaged_logbook", "not_a_logbook", "SQLITE_NOTADB"].includes(code) || code.startsWith("SQLITE_CORRUPT")
  )
}

/**
 * Turns what SQLite throws about a logbook file into a problem with a sentence; anything else is returned as it is.
 * `file` is named in the sentence.
 */
export function asProblem(error: unknown, file: string): unknown {
  if (!(error instanceof Database.SqliteError)) return error
  const details = { file, sqlite: error.code }
  const code = error.code
  if (code.startsWith("SQLITE_BUSY") || code.startsWith("SQLITE_LOCKED"))
    return new ProblemError(
      "locked",
      `${file} is being written by another program. Close it there, or wait, then try again; nothing was changed.`,
      details,
    )
  if (code.startsWith("SQLITE_FULL"))
    return new ProblemError(
      "disk_full",
      `There is no room left to write ${file}. Free some space, then try again; nothing was changed.`,
      details,
    )
  if (code.startsWith("SQLITE_IOERR"))
    return new ProblemError(
      "disk_failed",
      `The disk would not read or write ${file}. Check that its drive is there and has room, then try again; what was saved before is kept.`,
      details,
    )
  if (code === "SQLITE_NOTADB")
    return new ProblemError(
      "not_a_logbook",
      `${file} is not a Stintbook logbook. Nothing was changed.`,
      details,
    )
  if (code.startsWith("SQLITE_CORRUPT"))
    return new ProblemError(
      "damaged_logbook",
      `${file} is damaged. Keep it as it is and open the newest backup from the folder beside it.`,
      details,
    )
  if (code.startsWith("SQLITE_READONLY"))
    return new ProblemError("read_only", `${file} can only be read here. Nothing was changed.`, details)
  if (code.startsWith("SQLITE_CANTOPEN"))
    return new ProblemError(
      "file_missing",
      `${file} cannot be opened. Check that the folder exists and that you may write there.`,
      details,
    )
  return error
}

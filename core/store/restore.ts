import { constants, copyFileSync, renameSync, rmSync } from "node:fs"
import { basename, join } from "node:path"
import Database from "better-sqlite3"
import { ProblemError } from "../../shared/problems.ts"
import { backupFolder, backupsOf, dayOf, freeName, stemOf } from "./backup.ts"
import { checkFile } from "./check.ts"
import { asProblem, isDamage } from "./sqliteProblems.ts"

/**
 * Puts a backup in the place of a logbook that is closed, damaged or not, and keeps what stood there beside it. Returns the kept file's
 * path. The logbook's name holds a whole file at every moment. Throws a ProblemError, and leaves all as it was, for a backup
 * that is not there or damaged, and where another program has the logbook open.
 */
export function restoreBackup(file: string, name: string): string {
  if (!backupsOf(file).some((backup) => backup.name === name))
    throw new ProblemError(
      "file_missing",
      `There is no backup ${name} of ${basename(file)}. Nothing was changed.`,
      {
        name,
      },
    )
  const copy = `${file}.restoring`
  try {
    copyFileSync(join(backupFolder(file), name), copy)
    requireSound(copy, name)
    requireAlone(file)
    const keptAs = freeName(`${stemOf(file)}.before-restore-${dayOf(Date.now())}`)
    copyFileSync(file, keptAs, constants.COPYFILE_EXCL)
    renameSync(copy, file)
    return keptAs
  } catch (error) {
    rmSync(copy, { force: true })
    throw asProblem(error, file)
  }
}

function requireSound(copy: string, name: string): void {
  const db = new Database(copy, { fileMustExist: true })
  try {
    const findings = checkFile(db)
    db.pragma("journal_mode = DELETE")
    if (findings.length > 0)
      throw new ProblemError(
        "damaged_logbook",
        `The backup ${name} is damaged. Take another one; nothing was changed.`,
        { name, findings },
      )
  } finally {
    db.close()
  }
}

/**
 * Leaving the write-ahead log wants the file for itself: while another program has it open, SQLite says that it is busy. A
 * damaged file says something else; its log is written into it, or given up, when the last connection closes.
 */
function requireAlone(file: string): void {
  const db = new Database(file, { fileMustExist: true })
  try {
    db.pragma("busy_timeout = 0")
    db.pragma("journal_mode = DELETE")
  } catch (error) {
    if (!isDamage(error)) throw error
  } finally {
    db.close()
  }
}

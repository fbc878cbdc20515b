import { statSync } from "node:fs"
import type { Database } from "better-sqlite3"
import { ProblemError } from "../../shared/problems.ts"
import type { OpenFile, ReadOnly } from "./open.ts"
import { beginChange, type OpenChange } from "./put.ts"
import { asProblem } from "./sqliteProblems.ts"

/** An open logbook: one connection, one writer at a time. */
export class Logbook {
  readonly db: Database
  readonly file: string
  /** Why it may only be read; null where it may be written. */
  readonly whyReadOnly: ReadOnly | null
  /** The file itself, whatever stands under its name later. */
  readonly #inode: bigint
  #own = 0
  #seen = ""
  #version = 0

  constructor(open: OpenFile) {
    this.db = open.db
    this.file = open.file
    this.whyReadOnly = open.readOnly
    this.#inode = inodeOf(open.file) ?? 0n
  }

  get readOnly(): boolean {
    return this.whyReadOnly !== null
  }

  /** Whether the file still stands under its name. One moved, removed or replaced while open takes no more changes. */
  inPlace(): boolean {
    return inodeOf(this.file) === this.#inode
  }

  /** A number that grows whenever the logbook's content has changed, by this program or by another. */
  version(): number {
    const state = `${String(this.db.pragma("data_version", { simple: true }))} ${this.#own}`
    if (state !== this.#seen) {
      this.#seen = state
      this.#version += 1
    }
    return this.#version
  }

  /**
   * Runs one act of the user in one transaction: all of it is stored, or nothing. Throws a ProblemError when the file
   * is read-only, locked or the disk is full.
   */
  change<T>(act: (change: OpenChange) => T): T {
    this.requireWritable()
    try {
      const result = this.db.transaction(() => act(beginChange(this.db))).immediate()
      this.#own += 1
      return result
    } catch (error) {
      throw asProblem(error, this.file)
    }
  }

  /**
   * The same for a long act that gives way now and then, so that it can be watched and cancelled. The caller must see
   * to it that nothing else uses this logbook meanwhile. Rolled back when the act throws.
   */
  async longChange<T>(act: (change: OpenChange) => Promise<T>): Promise<T> {
    this.requireWritable()
    try {
      this.db.exec("BEGIN IMMEDIATE")
      const result = await act(beginChange(this.db))
      this.db.exec("COMMIT")
      this.#own += 1
      return result
    } catch (error) {
      if (this.db.inTransaction) this.db.exec("ROLLBACK")
      this.#giveBack()
      throw asProblem(error, this.file)
    }
  }

  /** Frees the room that a long act has taken beside the file and does not need: on a full disk it is all there is. */
  #giveBack(): void {
    try {
      this.db.pragma("wal_checkpoint(TRUNCATE)")
    } catch {
      // It stays until the file is closed.
    }
  }

  /** Reads from the logbook; what SQLite has to say comes out as a problem with a sentence. */
  read<T>(act: (db: Database) => T): T {
    try {
      return act(this.db)
    } catch (error) {
      throw asProblem(error, this.file)
    }
  }

  close(): void {
    this.db.close()
  }

  /** Throws a ProblemError where the file may only be read, or is no longer where it was opened. */
  requireWritable(): void {
    if (this.whyReadOnly !== null)
      throw new ProblemError(this.whyReadOnly.code, this.whyReadOnly.message, { file: this.file })
    if (!this.inPlace())
      throw new ProblemError(
        "file_missing",
        `${this.file} was moved, removed or replaced while it was open, so nothing can be saved to it. Nothing was changed.`,
        { file: this.file },
      )
  }
}

const inodeOf = (file: string): bigint | null =>
  statSync(file, { bigint: true, throwIfNoEntry: false })?.ino ?? null

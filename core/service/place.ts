import type { BookHandlers } from "../../shared/api.ts"
import { ProblemError } from "../../shared/problems.ts"
import { problemOf } from "../../shared/rpc.ts"
import { restoreBackup } from "../store/restore.ts"
import { isDamage } from "../store/sqliteProblems.ts"
import { lockFile } from "./fileLock.ts"
import { oneAtATime } from "./queue.ts"
import { openSession, type Session, type SessionTools } from "./session.ts"

/** The place on the desk for one logbook: it is exchanged as a whole, and calls wait while it is. */
export type Place = {
  /** What is open, and why nothing is where that was not the user's wish; after any exchange under way. */
  look(): Promise<{ readonly session: Session | null; readonly trouble: Trouble | null }>
  /** The handlers of what is open. Throws ProblemError "no_logbook" where nothing is. */
  handlers(): Promise<BookHandlers>
  /** Opens a logbook in the place of the present one, which stays where the other cannot be opened. */
  lay(file: string): Promise<void>
  /** The same at the start, when nobody is there to be told: what goes wrong is kept as the problem. */
  layFirst(file: () => string): void
  clear(): Promise<void>
  /**
   * Puts a backup in the place of a logbook, of the one that is open to be written where `file` is null, and opens it. Returns
   * the path of what stood there.
   */
  restore(file: string | null, backup: string): Promise<string>
}

/** Why nothing is open: the sentence, and the file that is damaged where one is. */
export type Trouble = { readonly sentence: string; readonly damaged: string | null }

/** An empty place; `opened` hears of every logbook that is laid there. */
export function emptyPlace(tools: Omit<SessionTools, "lost">, opened: (file: string) => void): Place {
  const exchanges = oneAtATime()
  let exchanged: Promise<unknown> = Promise.resolve()
  let session: Session | null = null
  let trouble: Trouble | null = null
  const changed = () => tools.changed()

  const exchange = <T>(act: () => Promise<T>): Promise<T> => {
    const run = exchanges(act)
    exchanged = run.catch(() => undefined)
    return run
  }
  /** When no exchange is under way, nor another one that was asked for meanwhile. */
  const quiet = async (): Promise<void> => {
    let last: Promise<unknown> | null = null
    while (last !== exchanged) {
      last = exchanged
      await last
    }
  }
  const open = async (file: string): Promise<Session> => {
    const made: Session = await openSession(file, {
      ...tools,
      lost: () => void exchange(async () => session === made && putAway()),
    })
    opened(file)
    return made
  }
  const fail = (sentence: string, damaged: string | null = null): void => {
    trouble = { sentence, damaged }
    tools.note(sentence)
  }
  const putAway = async (): Promise<void> => {
    const old = session
    session = null
    trouble = null
    const lost = (await old?.end()) ?? null
    if (lost !== null) fail(lost)
    changed()
  }
  const reopen = async (file: () => string): Promise<void> => {
    let path: string | null = null
    try {
      path = file()
      session = await open(path)
    } catch (error) {
      fail(problemOf(error).message, isDamage(error) ? path : null)
    }
    changed()
  }
  const present = (): Session => {
    if (session === null)
      throw new ProblemError(
        "no_logbook",
        trouble?.sentence ?? "No logbook is open. Open one, or make a new one.",
      )
    return session
  }
  return {
    look: async () => {
      await quiet()
      return { session, trouble }
    },
    handlers: async () => {
      await quiet()
      return present().handlers
    },
    lay: (file) =>
      exchange(async () => {
        if (session?.book.file === file && !session.book.readOnly) return
        const next = await open(file)
        await putAway()
        session = next
        trouble = null
        changed()
      }),
    layFirst: (file) => void exchange(async () => reopen(file)),
    clear: () => exchange(putAway),
    restore: (wanted, backup) =>
      exchange(async () => {
        const file = wanted ?? present().book.file
        const isOpen = session?.book.file === file
        if (isOpen) {
          present().book.requireWritable()
          await putAway()
        }
        const lock = lockFile(file)
        try {
          if (lock.readOnly !== null) throw new ProblemError(lock.readOnly.code, lock.readOnly.message)
          const keptAs = restoreBackup(file, backup)
          if (!isOpen) await putAway()
          return keptAs
        } finally {
          lock.release()
          if (isOpen || session === null) await reopen(() => file)
        }
      }),
  }
}

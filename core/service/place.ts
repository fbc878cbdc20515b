import type { BookHandlers } from "../../shared/api.ts"
import { ProblemError } from "../../shared/problems.ts"
import { problemOf } from "../../shared/rpc.ts"
import { restoreBackup } from "../store/restore.ts"
import { oneAtATime } from "./queue.ts"
import { openSession, type Session, type SessionTools } from "./session.ts"

/** The place on the desk for one logbook: it is exchanged as a whole, and calls wait while it is. */
export type Place = {
  /** What is open, and why nothing is where that was not the user's wish; after any exchange under way. */
  look(): Promise<{ readonly session: Session | null; readonly problem: string | null }>
  /** The handlers of what is open. Throws ProblemError "no_logbook" where nothing is. */
  handlers(): Promise<BookHandlers>
  /** Opens a logbook in the place of the present one, which stays where the other cannot be opened. */
  lay(file: string): Promise<void>
  /** The same at the start, when nobody is there to be told: what goes wrong is kept as the problem. */
  layFirst(file: () => string): void
  clear(): Promise<void>
  /** Puts a backup in the place of the logbook that is open to be written. Returns the path of what stood there. */
  restore(backup: string): Promise<string>
}

/** An empty place; `opened` hears of every logbook that is laid there. */
export function emptyPlace(tools: Omit<SessionTools, "lost">, opened: (file: string) => void): Place {
  const exchanges = oneAtATime()
  let exchanged: Promise<unknown> = Promise.resolve()
  let session: Session | null = null
  let problem: string | null = null
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
  const fail = (sentence: string): void => {
    problem = sentence
    tools.note(sentence)
  }
  const putAway = async (): Promise<void> => {
    const old = session
    session = null
    problem = null
    const lost = (await old?.end()) ?? null
    if (lost !== null) fail(lost)
    changed()
  }
  const reopen = async (file: () => string): Promise<void> => {
    try {
      session = await open(file())
    } catch (error) {
      fail(problemOf(error).message)
    }
    changed()
  }
  const present = (): Session => {
    if (session === null)
      throw new ProblemError("no_logbook", problem ?? "No logbook is open. Open one, or make a new one.")
    return session
  }
  return {
    look: async () => {
      await quiet()
      return { session, problem }
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
        problem = null
        changed()
      }),
    layFirst: (file) => void exchange(async () => reopen(file)),
    clear: () => exchange(putAway),
    restore: (backup) =>
      exchange(async () => {
        const { book } = present()
        book.requireWritable()
        await putAway()
        try {
          return restoreBackup(book.file, backup)
        } finally {
          await reopen(() => book.file)
        }
      }),
  }
}

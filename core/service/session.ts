import { rmSync } from "node:fs"
import { basename, dirname } from "node:path"
import type { BookHandlers } from "../../shared/api.ts"
import { problemOf } from "../../shared/rpc.ts"
import { dayOf, freeName, stemOf } from "../store/backup.ts"
import type { Logbook } from "../store/logbook.ts"
import { lockFile } from "./fileLock.ts"
import { openBook } from "./open.ts"
import { serveBook, type ServiceTools } from "./service.ts"

/** How often a logbook is looked at for changes by other programs, ms. */
const lookEvery = 1000

/** A logbook that lies open on the desk. */
export type Session = {
  readonly book: Logbook
  readonly handlers: BookHandlers
  /**
   * Cancels or finishes what is under way, then closes the file and gives up the right to write it. A file that is no longer
   * under its name is copied before; returns the sentence that says so, else null.
   */
  end(): Promise<string | null>
}

/** `lost` is called once when the file is no longer under its name: it should be put away. */
export type SessionTools = Omit<ServiceTools, "changed"> & {
  readonly changed: () => void
  readonly lost: () => void
}

/**
 * Opens a logbook for the window: to write where no other host does, else to read. Other programs' changes are noticed within
 * a second. Throws a ProblemError where it cannot be opened.
 */
export async function openSession(file: string, tools: SessionTools): Promise<Session> {
  const lock = lockFile(file)
  const book = await openBook(file, lock.readOnly).catch((error: unknown) => {
    lock.release()
    throw error
  })
  let told = book.version()
  const changed = (version: number) => {
    told = version
    tools.changed()
  }
  const service = serveBook(book, { ...tools, changed })
  const look = setInterval(() => {
    if (!book.inPlace()) {
      clearInterval(look)
      tools.lost()
    } else if (book.version() !== told) service.changedElsewhere()
  }, lookEvery).unref()
  service.changedElsewhere()
  return {
    book,
    handlers: service.handlers,
    end: async () => {
      clearInterval(look)
      await service.end()
      const sentence = book.inPlace() ? null : await rescue(book)
      book.close()
      lock.release()
      return sentence
    },
  }
}

/** Keeps all that a lost logbook held, the last saves too, in a file beside it. Returns the sentence that says so. */
async function rescue(book: Logbook): Promise<string> {
  const name = basename(book.file)
  const what = `${name} was moved, removed or replaced while it was open.`
  if (book.readOnly) return what
  const target = freeName(`${stemOf(book.file)}.rescued-${dayOf(Date.now())}`)
  try {
    await book.db.backup(target)
    return `${what} All that it held is kept as ${basename(target)}; open that one.`
  } catch (error) {
    rmSync(target, { force: true })
    return `${what} A copy could not be kept in ${dirname(target)}: ${problemOf(error).message}`
  }
}

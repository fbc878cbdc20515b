import { mkdirSync, renameSync, rmSync } from "node:fs"
import { basename, dirname, isAbsolute, resolve } from "node:path"
import {
  bookHandlersBy,
  type BookHandlers,
  type CallContext,
  type DeskHandlers,
  type Handlers,
} from "../../shared/api.ts"
import type { DeskState } from "../../shared/desk.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import { problemOf } from "../../shared/rpc.ts"
import { backupsOf } from "../store/backup.ts"
import type { Logbook } from "../store/logbook.ts"
import { settingOf } from "../store/read/names.ts"
import { deskFiles } from "./deskFiles.ts"
import { deskLog } from "./deskLog.ts"
import { newBook } from "./open.ts"
import { emptyPlace } from "./place.ts"
import { deskMemory } from "./preferences.ts"
import { newSampleBook, sampleKey, usualSample } from "./sample.ts"
import type { Answerer } from "./service.ts"
import { saveSettings } from "./settings.ts"
import { Uploads } from "./uploads.ts"

/** Where the desk stands: paths, which only the host and the core know. */
export type DeskStart = {
  /** The one folder of logbooks. */
  readonly folder: string
  /** Where this computer keeps preferences and the log. */
  readonly config: string
  /** A logbook to open at once: a name in the folder, or a whole path. */
  readonly open: string | null
}

/** What lies above one open logbook: it answers whether or not there is one. */
export type Desk = {
  readonly handlers: Handlers
  /** Hears of every change of the open logbook, and of another one being opened; returns how to stop. */
  listen(changed: (version: number) => void): () => void
  /** Closes what is open, so that no lock is left. */
  end(): Promise<void>
}

/** The desk of one host; `persist` writes a line to the host's log. */
export function openDesk(start: DeskStart, answer: Answerer, persist: (line: string) => void): Desk {
  const folder = resolve(start.folder)
  const files = deskFiles(folder)
  const memory = deskMemory(start.config)
  const uploads = new Uploads()
  const { note, text } = deskLog(start.config, persist)
  const listeners = new Set<(version: number) => void>()
  let version = 0
  const changed = (): void => {
    version += 1
    for (const tell of listeners) tell(version)
  }
  const place = emptyPlace({ answer, uploads, changed, note }, (file) => {
    if (dirname(file) === folder) memory.opened(basename(file))
  })
  const state = async (): Promise<DeskState> => {
    const { session, trouble } = await place.look()
    const book = session?.book ?? null
    const open = book === null ? null : { file: book.file, sample: isSample(book) }
    return {
      folder,
      files: files.list(open),
      recent: [...memory.recent()],
      open:
        book === null || open === null
          ? null
          : {
              name: basename(open.file),
              read_only: book.whyReadOnly?.message ?? null,
              sample: open.sample,
            },
      problem: trouble?.sentence ?? null,
      damaged: trouble?.damaged == null ? null : nameIn(trouble.damaged),
    }
  }
  /** A file's name where it lies in the folder, null elsewhere. */
  const nameIn = (file: string): string | null => (dirname(file) === folder ? basename(file) : null)
  const lay = async (file: string): Promise<DeskState> => {
    await place.lay(file)
    return state()
  }
  const ofBook: BookHandlers = bookHandlersBy((method) => async (input, context) => {
    const handlers = await place.handlers()
    return noting(note, method, handlers[method](input, context))
  })
  const ofDesk: DeskHandlers = {
    "desk.state": state,
    "desk.open": async ({ name }) => lay(files.path(name)),
    "desk.new": async ({ name, units }) => {
      mkdirSync(folder, { recursive: true })
      const file = files.path(name)
      const book = newBook(file)
      keepUnits(book, units)
      book.close()
      return lay(file)
    },
    "desk.sample": async ({ units }, watch) => {
      const { file, there } = files.samplePlace()
      if (!there) await makeSample(file, units, watch)
      return lay(file)
    },
    "desk.close": async () => {
      await place.clear()
      return state()
    },
    "desk.backups": async ({ logbook }) => backupsOf(files.path(logbook)),
    "desk.restore": async ({ name, logbook }) => {
      const kept_as = basename(await place.restore(logbook === null ? null : files.path(logbook), name))
      return { ...(await state()), kept_as }
    },
    "desk.preferences": async () => memory.preferences(),
    "desk.prefer": async (wanted) => {
      const preferences = memory.prefer(wanted)
      changed()
      return preferences
    },
    "desk.log": async () => ({ text: text() }),
    "upload.begin": async ({ name, bytes }) => ({ upload: uploads.begin(name, bytes) }),
    "upload.piece": async ({ upload, at, bytes }) => {
      uploads.piece(upload, at, bytes)
      return {}
    },
    "upload.drop": async ({ upload }) => {
      uploads.drop(upload)
      return {}
    },
  }
  const open = start.open ?? lastOpened()
  if (open !== null) place.layFirst(() => (isAbsolute(open) ? open : files.path(open)))
  return {
    handlers: { ...ofBook, ...ofDesk },
    listen: (hear) => {
      listeners.add(hear)
      return () => listeners.delete(hear)
    },
    end: () => place.clear(),
  }

  /** The logbook of last time, where it is still in the folder. */
  function lastOpened(): string | null {
    const [last] = memory.recent()
    return files.list(null).some(({ name }) => name === last) ? (last ?? null) : null
  }
}

const isSample = (book: Logbook): boolean => book.read((db) => settingOf(db, sampleKey)) !== null

/** Makes the sample under a name of its own, which it gives up only when it is whole; what an earlier try left is removed. */
async function makeSample(file: string, units: ReaderUnits | undefined, watch: CallContext): Promise<void> {
  const part = `${file}.part`
  for (const ending of ["", "-wal", "-shm"]) rmSync(`${part}${ending}`, { force: true })
  const { book } = await newSampleBook(part, usualSample, watch)
  keepUnits(book, units)
  book.close()
  renameSync(part, file)
}

function keepUnits(book: Logbook, units: ReaderUnits | undefined): void {
  if (units !== undefined) book.change((open) => saveSettings(open, { units }))
}

/**
 * Notes where in the program something went wrong that nobody expected. Its message stays out of the log, as it may hold what
 * a logbook says; what the user is told by a sentence of its own needs no noting.
 */
async function noting<T>(note: (line: string) => void, method: string, call: Promise<T>): Promise<T> {
  try {
    return await call
  } catch (error) {
    if (problemOf(error).code === "internal") note(`${method}: ${placeOf(error)}`)
    throw error
  }
}

const framesNoted = 6

function placeOf(error: unknown): string {
  if (!(error instanceof Error)) return typeof error
  const frames = (error.stack ?? "").split("\n").filter((line) => /^\s+at /.test(line))
  return [error.name, ...frames.slice(0, framesNoted).map((line) => line.trim())].join(" ")
}

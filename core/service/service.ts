import { bookHandlersBy, type BookHandlers, type CallContext } from "../../shared/api.ts"
import type { Told } from "../../shared/answer.ts"
import { ProblemError } from "../../shared/problems.ts"
import type { Ask } from "../../shared/questions.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { Facts } from "../facts.ts"
import type { Logbook } from "../store/logbook.ts"
import { anglerHandlers } from "./anglers.ts"
import { codeHandlers } from "./codes.ts"
import { conditionsKeeper } from "./conditions.ts"
import { dailyBackup } from "./dailyBackup.ts"
import { dayHandlers } from "./day.ts"
import { exportHandlers } from "./exports.ts"
import { findHandlers } from "./find.ts"
import { fishListHandlers } from "./fishList.ts"
import { historyHandlers } from "./history.ts"
import { importHandlers } from "./imports.ts"
import { logbookHandlers } from "./logbook.ts"
import { pieceHandlers } from "./pieces.ts"
import { questionHandlers } from "./questions.ts"
import { oneAtATime } from "./queue.ts"
import { rememberedFacts } from "./rememberedFacts.ts"
import { runningLogHandlers } from "./runningLog.ts"
import { settingsHandlers } from "./settings.ts"
import { sheetHandlers } from "./sheet.ts"
import { skyHandlers } from "./sky.ts"
import { speciesHandlers } from "./species.ts"
import { spotHandlers } from "./spots.ts"
import { trackHandlers } from "./tracks.ts"
import { stationHandlers } from "./stations.ts"
import { tackleHandlers } from "./tackle.ts"
import { tripActHandlers } from "./tripActs.ts"
import { cardHandlers } from "./tripCard.ts"
import { tripHandlers } from "./trips.ts"
import { Uploads } from "./uploads.ts"

/**
 * Answers a question from facts, told in the reader's units; in the window's core this happens in another thread, which
 * the context's signal ends; how far a long one is goes to its progress.
 */
export type Answerer = (facts: Facts, ask: Ask, reader: ReaderUnits, context: CallContext) => Promise<Told>

/** What a logbook's service works with besides the logbook. */
export type ServiceTools = {
  readonly answer: Answerer
  /** Called after every change of the logbook, and again when what follows from it is worked out. */
  readonly changed: (version: number) => void
  /** Files that wait to be imported. */
  readonly uploads: Uploads
  /** Hears of what went wrong without stopping anything, for the log. */
  readonly note: (sentence: string) => void
}

/** A logbook's service: its handlers, and how to be done with it. */
export type BookService = {
  readonly handlers: BookHandlers
  /** To be called when another program has changed the file. */
  changedElsewhere(): void
  /** Cancels what can be cancelled, waits for the rest, and leaves the logbook to be closed. */
  end(): Promise<void>
}

/**
 * All that can be called on an open logbook, put together from the handlers of each area. Calls that touch the file
 * wait for one another; answering a question does not hold up a save. The first change of a day comes after a backup, and
 * after every change the conditions that follow from it are worked out in the background.
 */
export function serveBook(book: Logbook, { answer, changed, uploads, note }: ServiceTools): BookService {
  const queue = oneAtATime()
  const ending = new AbortController()
  const tell = () => changed(book.version())
  const keeper = conditionsKeeper(book, queue, tell, ending.signal)
  const tools = { factsFor: rememberedFacts(book, queue), answer }
  const backUp = dailyBackup(book, note)
  const change = async <T>(act: () => Promise<T>): Promise<T> => {
    const result = await queue(async () => {
      await backUp()
      return act()
    })
    tell()
    keeper.wake()
    return result
  }
  const areas: BookHandlers = {
    ...logbookHandlers(book, queue),
    ...importHandlers(book, queue, change, uploads),
    ...exportHandlers(book, queue, keeper),
    ...questionHandlers(book, queue, change, keeper, tools),
    ...spotHandlers(book, queue, change),
    ...trackHandlers(book, queue, change),
    ...stationHandlers(book, queue, change),
    ...skyHandlers(book, queue, keeper),
    ...historyHandlers(book, queue, change),
    ...settingsHandlers(book, queue, change),
    ...tripHandlers(book, queue),
    ...codeHandlers(book, queue),
    ...findHandlers(book, queue),
    ...dayHandlers(book, queue, change),
    ...tackleHandlers(book, queue, change),
    ...pieceHandlers(book, queue, change, keeper, tools),
    ...anglerHandlers(book, queue, change),
    ...sheetHandlers(book, queue, change),
    ...fishListHandlers(book, queue, change),
    ...tripActHandlers(book, queue, change),
    ...runningLogHandlers(book, queue, change),
    ...speciesHandlers(book, queue, change),
    ...cardHandlers(book, queue),
  }
  const underWay = new Set<Promise<unknown>>()
  const watched = <T>(call: Promise<T>): Promise<T> => {
    const done = call.finally(() => underWay.delete(done))
    underWay.add(done)
    return done
  }
  return {
    handlers: bookHandlersBy(
      (method) => async (input, context) =>
        watched(
          areas[method](input, { ...context, signal: AbortSignal.any([context.signal, ending.signal]) }),
        ),
    ),
    changedElsewhere: () => {
      tell()
      keeper.wake()
    },
    end: async () => {
      ending.abort(new ProblemError("cancelled", "The logbook was closed meanwhile; nothing was changed."))
      await Promise.allSettled(underWay)
      await keeper.idle()
    },
  }
}

/** The service of a logbook that one program uses by itself and closes when it is done. */
export const makeService = (
  book: Logbook,
  answer: Answerer,
  changed: (version: number) => void,
): BookHandlers =>
  serveBook(book, { answer, changed, uploads: new Uploads(), note: () => undefined }).handlers

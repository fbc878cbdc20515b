import type { Handlers } from "../../shared/api.ts"
import type { Answer, LookThrough } from "../../shared/answer.ts"
import type { Ask } from "../../shared/questions.ts"
import type { ReaderUnits } from "../../shared/readerUnits.ts"
import type { Facts } from "../facts.ts"
import type { Logbook } from "../store/logbook.ts"
import { conditionsKeeper } from "./conditions.ts"
import { exportHandlers } from "./exports.ts"
import { historyHandlers } from "./history.ts"
import { importHandlers } from "./imports.ts"
import { logbookHandlers } from "./logbook.ts"
import { questionHandlers } from "./questions.ts"
import { oneAtATime } from "./queue.ts"
import { settingsHandlers } from "./settings.ts"
import { skyHandlers } from "./sky.ts"
import { spotHandlers } from "./spots.ts"
import { stationHandlers } from "./stations.ts"

/**
 * Answers a question from facts, told in the reader's units; in the window's core this happens in another thread, which
 * `signal` ends.
 */
export type Answerer = (
  facts: Facts,
  ask: Ask,
  reader: ReaderUnits,
  signal: AbortSignal,
) => Promise<Answer | LookThrough>

/**
 * All that can be called on an open logbook, put together from the handlers of each area. Calls that touch the file
 * wait for one another; answering a question does not hold up a save. After every change the conditions that follow
 * from it are worked out in the background. `changed` is called after every change, and again when they are.
 */
export function makeService(book: Logbook, answer: Answerer, changed: (version: number) => void): Handlers {
  const queue = oneAtATime()
  const keeper = conditionsKeeper(book, queue, () => changed(book.version()))
  const change = async <T>(act: () => Promise<T>): Promise<T> => {
    const result = await queue(act)
    changed(book.version())
    keeper.wake()
    return result
  }
  return {
    ...logbookHandlers(book, queue),
    ...importHandlers(book, queue, change),
    ...exportHandlers(book, queue, keeper),
    ...questionHandlers(book, queue, keeper, answer),
    ...spotHandlers(book, queue, change),
    ...stationHandlers(book, queue, change),
    ...skyHandlers(book, queue, keeper),
    ...historyHandlers(book, change),
    ...settingsHandlers(book, queue, change),
  }
}

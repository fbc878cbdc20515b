import type { Handlers } from "../../shared/api.ts"
import type { Answer, LookThrough } from "../../shared/answer.ts"
import type { Ask } from "../../shared/questions.ts"
import type { Facts } from "../facts.ts"
import type { Logbook } from "../store/logbook.ts"
import { exportHandlers } from "./exports.ts"
import { importHandlers } from "./imports.ts"
import { logbookHandlers } from "./logbook.ts"
import { questionHandlers } from "./questions.ts"
import { oneAtATime } from "./queue.ts"

/** Answers a question from facts; in the window's core this happens in another thread, which `signal` ends. */
export type Answerer = (facts: Facts, ask: Ask, signal: AbortSignal) => Promise<Answer | LookThrough>

/**
 * All that can be called on an open logbook, put together from the handlers of each area. Calls that touch the file
 * wait for one another; answering a question does not hold up a save. `changed` is called after every change.
 */
export function makeService(book: Logbook, answer: Answerer, changed: (version: number) => void): Handlers {
  const queue = oneAtATime()
  const after = async <T>(act: () => Promise<T>): Promise<T> => {
    const result = await queue(act)
    changed(book.version())
    return result
  }
  return {
    ...logbookHandlers(book, queue),
    ...importHandlers(book, queue, after),
    ...exportHandlers(book, queue),
    ...questionHandlers(book, queue, answer),
  }
}

import { Worker } from "node:worker_threads"
import type { Told } from "../shared/answer.ts"
import { ProblemError, type Problem } from "../shared/problems.ts"
import type { Ask } from "../shared/questions.ts"
import type { ReaderUnits } from "../shared/readerUnits.ts"
import type { Facts } from "./facts.ts"
import type { Answerer } from "./service/service.ts"

export type FitRequest = {
  readonly id: number
  readonly facts: Facts
  readonly ask: Ask
  readonly reader: ReaderUnits
}
export type FitReply =
  | { readonly id: number; readonly done: number; readonly of: number }
  | { readonly id: number; readonly answer: Told }
  | { readonly id: number; readonly problem: Problem }

/**
 * Answers questions in a thread of their own, started when first needed. Cancelling one ends the thread; the others
 * under way in it are asked again in a new one.
 */
export function fitThread(): { answer: Answerer } {
  let worker: Worker | null = null
  let last = 0
  const waiting = new Map<
    number,
    {
      request: FitRequest
      resolve(answer: Told): void
      reject(error: unknown): void
      progress(done: number, of: number): void
    }
  >()

  const start = (): Worker => {
    const started = new Worker(new URL("./fit.ts", import.meta.url))
    started.unref()
    started.on("message", (reply: FitReply) => {
      const call = waiting.get(reply.id)
      if ("done" in reply) {
        call?.progress(reply.done, reply.of)
        return
      }
      waiting.delete(reply.id)
      if ("answer" in reply) call?.resolve(reply.answer)
      else call?.reject(new ProblemError(reply.problem.code, reply.problem.message, reply.problem.details))
    })
    started.on("error", (error) => {
      if (worker === started) worker = null
      for (const call of waiting.values()) call.reject(error)
      waiting.clear()
    })
    return started
  }

  const cancel = async (id: number, reason: unknown): Promise<void> => {
    const call = waiting.get(id)
    if (call === undefined) return
    waiting.delete(id)
    call.reject(reason)
    const old = worker
    worker = null
    await old?.terminate()
    for (const { request } of waiting.values()) send(request)
  }

  const send = (request: FitRequest): void => {
    worker ??= start()
    worker.postMessage(request)
  }

  return {
    answer: (facts, ask, reader, context) =>
      new Promise((resolve, reject) => {
        const { signal } = context
        signal.throwIfAborted()
        const request = { id: ++last, facts, ask, reader }
        waiting.set(request.id, {
          request,
          resolve,
          reject,
          progress: (done, of) => context.progress(done, of),
        })
        signal.addEventListener("abort", () => void cancel(request.id, signal.reason), { once: true })
        send(request)
      }),
  }
}

import { Worker } from "node:worker_threads"
import type { Told } from "../shared/answer.ts"
import { ProblemError, type Problem } from "../shared/problems.ts"
import type { Ask } from "../shared/questions.ts"
import type { ReaderUnits } from "../shared/readerUnits.ts"
import { factsBeyond, type FactsBeyond } from "./factsBeyond.ts"
import type { Facts } from "./facts.ts"
import type { Answerer } from "./service/service.ts"

export type AnswerRequest = {
  readonly id: number
  /** What the thread does not know yet of the facts to answer from. */
  readonly facts: FactsBeyond
  readonly ask: Ask
  readonly reader: ReaderUnits
}
export type AnswerReply =
  | { readonly id: number; readonly done: number; readonly of: number }
  | { readonly id: number; readonly answer: Told }
  | { readonly id: number; readonly problem: Problem }

type Waiting = {
  readonly facts: Facts
  readonly ask: Ask
  readonly reader: ReaderUnits
  resolve(answer: Told): void
  reject(error: unknown): void
  progress(done: number, of: number): void
}

/**
 * Answers questions in a thread of its own, started when first needed. Where `endedByCancel`, cancelling an answer ends the
 * thread, and the others under way in it are asked again in a new one; else what nobody wants any more is worked out and
 * dropped.
 */
export function answerThread({ endedByCancel }: { readonly endedByCancel: boolean }): Answerer {
  let worker: Worker | null = null
  let known: Facts | null = null
  let last = 0
  const waiting = new Map<number, Waiting>()

  const start = (): Worker => {
    const started = new Worker(new URL("./fit.ts", import.meta.url))
    started.unref()
    started.on("message", (reply: AnswerReply) => {
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
      if (worker === started) forget()
      for (const call of waiting.values()) call.reject(error)
      waiting.clear()
    })
    return started
  }

  const forget = (): void => {
    worker = null
    known = null
  }

  const cancel = async (id: number, reason: unknown): Promise<void> => {
    const call = waiting.get(id)
    if (call === undefined) return
    waiting.delete(id)
    call.reject(reason)
    if (!endedByCancel) return
    const old = worker
    forget()
    await old?.terminate()
    for (const [other, under] of waiting) send(other, under)
  }

  const send = (id: number, { facts, ask, reader }: Waiting): void => {
    worker ??= start()
    worker.postMessage({ id, facts: factsBeyond(known, facts), ask, reader } satisfies AnswerRequest)
    known = facts
  }

  return (facts, ask, reader, context) =>
    new Promise((resolve, reject) => {
      const { signal } = context
      signal.throwIfAborted()
      const id = ++last
      const progress = (done: number, of: number) => context.progress(done, of)
      const call = { facts, ask, reader, resolve, reject, progress }
      waiting.set(id, call)
      signal.addEventListener("abort", () => void cancel(id, signal.reason), { once: true })
      send(id, call)
    })
}

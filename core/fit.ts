// The second thread: facts and a question in, an answer out. Ending the thread is how an answer is cancelled.
import { parentPort } from "node:worker_threads"
import { problemOf } from "../shared/rpc.ts"
import type { FitReply, FitRequest } from "./fitThread.ts"
import { answerAsk } from "./questions/ask.ts"

if (parentPort === null) throw new Error("core/fit.ts runs as a worker thread")
const owner = parentPort

owner.on("message", ({ id, facts, ask, reader }: FitRequest) => {
  const progress = (done: number, of: number) => {
    owner.postMessage({ id, done, of } satisfies FitReply)
  }
  owner.postMessage(reply(id, () => answerAsk(facts, ask, reader, progress)))
})

function reply(id: number, act: () => ReturnType<typeof answerAsk>): FitReply {
  try {
    return { id, answer: act() }
  } catch (error) {
    return { id, problem: problemOf(error) }
  }
}

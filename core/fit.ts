// A thread that answers: facts and a question in, an answer out. Ending the thread is how an answer is cancelled.
import { parentPort } from "node:worker_threads"
import { problemOf } from "../shared/rpc.ts"
import type { AnswerReply, AnswerRequest } from "./answerThread.ts"
import type { Facts } from "./facts.ts"
import { factsWith } from "./factsBeyond.ts"
import { answerAsk } from "./questions/ask.ts"

if (parentPort === null) throw new Error("core/fit.ts runs as a worker thread")
const owner = parentPort
/** The facts last answered from: what is asked next stands mostly on the same. */
let known: Facts | null = null

owner.on("message", ({ id, facts: beyond, ask, reader }: AnswerRequest) => {
  const progress = (done: number, of: number) => {
    owner.postMessage({ id, done, of } satisfies AnswerReply)
  }
  const facts = factsWith(known, beyond)
  known = facts
  owner.postMessage(reply(id, () => answerAsk(facts, ask, reader, progress)))
})

function reply(id: number, act: () => ReturnType<typeof answerAsk>): AnswerReply {
  try {
    return { id, answer: act() }
  } catch (error) {
    return { id, problem: problemOf(error) }
  }
}

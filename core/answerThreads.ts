import type { Ask } from "../shared/questions.ts"
import { answerThread } from "./answerThread.ts"
import type { Answerer } from "./service/service.ts"

/**
 * Answers questions in two threads of their own, started when first needed: one for answers as fished, which take a moment
 * and are wanted at once, one for everything that takes longer. So nothing that is fitted, and no thread that was ended with
 * a cancelled fit, keeps an answer as fished waiting.
 */
export function answerThreads(): Answerer {
  const swift = answerThread({ endedByCancel: false })
  const thorough = answerThread({ endedByCancel: true })
  return (facts, ask, reader, context) => (isSwift(ask) ? swift : thorough)(facts, ask, reader, context)
}

const isSwift = ({ question, by, basis, depends_on }: Ask): boolean =>
  question === "compare" && by !== "all" && basis === "raw" && depends_on === null

import type { Facts } from "../facts.ts"
import type { Answer, LookThrough } from "../../shared/answer.ts"
import { factorIds, type FactorId } from "../../shared/factors.ts"
import type { Ask } from "../../shared/questions.ts"
import { presets, type ReaderUnits } from "../../shared/readerUnits.ts"
import { candidates } from "./held/candidates.ts"
import { compare } from "./compare.ts"
import { lookThrough } from "./lookThrough.ts"

/** The methods behind an answer, to be raised whenever they change what is found in the same facts. */
export const methodVersion = "answers 2"

/**
 * Answers a question from the facts alone: one comparison, or with `by` "all" what came of looking through every
 * factor. Its sentences and cautions are in the reader's units, its numbers and levels in SI. A refusal is an answer
 * too. Throws ProblemError `bad_ask` for a species or level the logbook does not have.
 */
export function answerAsk(
  facts: Facts,
  ask: Ask,
  reader: ReaderUnits = presets.metric,
  progress: (done: number, of: number) => void = () => {},
): Answer | LookThrough {
  return ask.by === "all" ? lookThrough(facts, ask, reader, progress) : compare(facts, ask, ask.by, reader)
}

export const isLookThrough = (answer: Answer | LookThrough): answer is LookThrough => "looked_at" in answer

/** The factors whose columns `answerAsk` reads. */
export function factorsNeeded(ask: Ask): FactorId[] {
  if (ask.by === "all") return [...factorIds]
  const where = ask.where.map(({ factor }) => factor)
  if (ask.basis === "raw") return [...new Set([ask.by, ...where])]
  const held = ask.given ?? candidates.map(({ factor }) => factor)
  const modifier = ask.depends_on === null ? [] : [ask.depends_on]
  return [...new Set([ask.by, ...where, ...modifier, ...held, "rods" as const])]
}

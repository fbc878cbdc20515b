import type { Facts } from "../facts.ts"
import type { Told } from "../../shared/answer.ts"
import { factorIds, type FactorId } from "../../shared/factors.ts"
import type { Ask } from "../../shared/questions.ts"
import { presets, type ReaderUnits } from "../../shared/readerUnits.ts"
import { compare } from "./compare.ts"
import { candidates } from "./held/candidates.ts"
import { lookThrough } from "./lookThrough.ts"
import { patience } from "./patience.ts"
import { fromLookToLanded } from "./steps.ts"

type Progress = (done: number, of: number) => void

/** A question: what it answers from facts, and the factors whose columns it reads. */
type Question = {
  readonly answer: (facts: Facts, ask: Ask, by: FactorId, reader: ReaderUnits) => Told
  readonly needs: (ask: Ask, by: FactorId) => readonly FactorId[]
}

const where = (ask: Ask): FactorId[] => ask.where.map(({ factor }) => factor)

/** Every question that takes one factor. A look through all factors takes none. */
const questions: Readonly<Record<Ask["question"], Question>> = {
  compare: { answer: compare, needs: comparisonNeeds },
  steps: { answer: fromLookToLanded, needs: (ask, by) => [by, ...where(ask)] },
  patience: { answer: patience, needs: (ask, by) => [by, ...where(ask)] },
}

function comparisonNeeds(ask: Ask, by: FactorId): FactorId[] {
  if (ask.basis === "raw") return [by, ...where(ask)]
  const held = ask.given ?? candidates.map(({ factor }) => factor)
  const modifier = ask.depends_on === null ? [] : [ask.depends_on]
  return [by, ...where(ask), ...modifier, ...held, "rods"]
}

/** The methods behind an answer, to be raised whenever they change what is found in the same facts. */
export const methodVersion = "answers 4"

/**
 * Answers a question from the facts alone: a comparison, from look to landed, how long to give a spot, or with `by` "all"
 * what came of looking through every factor. Its sentences and cautions are in the reader's units, its numbers and levels in
 * SI. A refusal is an answer too. `progress` hears how far a long one is. Throws ProblemError `bad_ask` for a species or level
 * the logbook does not have.
 */
export function answerAsk(
  facts: Facts,
  ask: Ask,
  reader: ReaderUnits = presets.metric,
  progress: Progress = () => {},
): Told {
  return ask.by === "all"
    ? lookThrough(facts, ask, reader, progress)
    : questions[ask.question].answer(facts, ask, ask.by, reader)
}

/** The factors whose columns `answerAsk` reads. */
export function factorsNeeded(ask: Ask): FactorId[] {
  return ask.by === "all" ? [...factorIds] : [...new Set(questions[ask.question].needs(ask, ask.by))]
}

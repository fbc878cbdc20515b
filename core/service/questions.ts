import type { CallContext, Handlers, Output, Parsed } from "../../shared/api.ts"
import type { Told } from "../../shared/answer.ts"
import { factorOf, type FactorId } from "../../shared/factors.ts"
import { factorsNeeded } from "../questions/ask.ts"
import { cutLabels } from "../questions/levels.ts"
import type { Logbook } from "../store/logbook.ts"
import { calendarOf, isFreeList, wordsOf } from "../store/read/names.ts"
import type { ConditionsKeeper } from "./conditions.ts"
import type { Queue } from "./queue.ts"
import type { FactsFor } from "./rememberedFacts.ts"
import { savedQuestionHandlers } from "./savedQuestions.ts"
import type { Answerer } from "./service.ts"
import { settingsIn } from "./settings.ts"

type Area = Pick<
  Handlers,
  | "questions.ask"
  | "questions.choices"
  | "questions.saved"
  | "questions.keep"
  | "questions.forget"
  | "questions.rerun"
>

/** Questions to the logbook. Facts are read once for each state of the logbook and set of factors. */
export const questionHandlers = (
  book: Logbook,
  queue: Queue,
  change: Queue,
  keeper: ConditionsKeeper,
  { factsFor, answer }: { readonly factsFor: FactsFor; readonly answer: Answerer },
): Area => {
  const answers = rememberedAnswers(book)
  const askNow = async ({ units, ...ask }: Parsed<"questions.ask">, context: CallContext) => {
    await keeper.settled(context)
    const facts = await factsFor(factorsNeeded(ask))
    const reader = units ?? (await queue(async () => book.read(settingsIn).units))
    const key = JSON.stringify([ask, reader])
    const known = answers.of(facts.version, key)
    if (known !== null) return known
    const told = await answer(facts, ask, reader, context)
    answers.keep(facts.version, key, told)
    return told
  }
  return {
    "questions.choices": () => queue(async () => choicesIn(book)),
    "questions.ask": askNow,
    ...savedQuestionHandlers(book, queue, change, askNow),
  }
}

/** Factors that a question is usually kept to a level of, in the order in which they are offered. */
const narrowing: readonly FactorId[] = [
  "lure_class",
  "light",
  "tide_stage",
  "tide_part",
  "current_stage",
  "water_temp_c",
  "visibility",
  "wind_speed_ms",
  "ground",
  "spot",
  "angler",
  "month",
  "year",
]

const choicesIn = (book: Logbook): Output<"questions.choices"> => ({
  species: book.read((db) => wordsOf(db, "species")),
  levels: narrowing.map((factor) => ({ factor, levels: [...levelsToChoose(book, factor)] })),
})

function levelsToChoose(book: Logbook, id: FactorId): readonly string[] {
  const factor = factorOf(id)
  if (factor.kind === "continuous") return cutLabels(factor.cuts)
  if (id === "month" || id === "year") return book.read((db) => calendarOf(db, id))
  if (factor.kind === "categorical" && factor.levels !== null) return factor.levels
  return isFreeList(id) ? book.read((db) => wordsOf(db, id)) : []
}

const mostAnswers = 60

/** Answers of the present version of the logbook: what is asked again costs nothing until something changes. */
function rememberedAnswers(book: Logbook) {
  let kept = { version: -1, told: new Map<string, Told>() }
  return {
    of: (version: number, key: string): Told | null =>
      kept.version === version ? (kept.told.get(key) ?? null) : null,
    keep: (version: number, key: string, told: Told): void => {
      if (version !== book.version()) return
      if (kept.version !== version) kept = { version, told: new Map() }
      const [oldest] = kept.told.keys()
      if (kept.told.size >= mostAnswers && oldest !== undefined) kept.told.delete(oldest)
      kept.told.set(key, told)
    },
  }
}

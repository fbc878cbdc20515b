import type { Handlers } from "../../shared/api.ts"
import type { FactorId } from "../../shared/factors.ts"
import type { Facts } from "../facts.ts"
import { factorsNeeded } from "../questions/ask.ts"
import type { Logbook } from "../store/logbook.ts"
import { readFacts } from "../store/readFacts.ts"
import type { ConditionsKeeper } from "./conditions.ts"
import type { Queue } from "./queue.ts"
import type { Answerer } from "./service.ts"
import { settingsIn } from "./settings.ts"

type Area = Pick<Handlers, "questions.ask">

/** Questions to the logbook. Facts are read once for each state of the logbook and set of factors. */
export const questionHandlers = (
  book: Logbook,
  queue: Queue,
  keeper: ConditionsKeeper,
  answer: Answerer,
): Area => {
  const factsFor = rememberedFacts(book)
  return {
    "questions.ask": async ({ units, ...ask }, context) => {
      await keeper.settled(context)
      const [facts, reader] = await queue(async () => [
        factsFor(factorsNeeded(ask)),
        units ?? book.read(settingsIn).units,
      ])
      return answer(facts, ask, reader, context.signal)
    },
  }
}

/** Reads facts and keeps those of the present version: asking again for factors already read costs nothing. */
function rememberedFacts(book: Logbook): (needed: readonly FactorId[]) => Facts {
  let kept: Facts | null = null
  return (needed) => {
    const version = book.version()
    const have = kept !== null && kept.version === version ? kept.factors : {}
    const missing = needed.filter((id) => have[id] === undefined)
    if (kept !== null && kept.version === version && missing.length === 0) return kept
    const facts = book.read((db) => readFacts(db, missing, version))
    kept = { ...facts, factors: { ...have, ...facts.factors } }
    return kept
  }
}

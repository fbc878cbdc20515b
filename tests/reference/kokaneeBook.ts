import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect } from "vitest"
import type { z } from "zod"
import { answerAsk } from "../../core/questions/ask.ts"
import { makeService } from "../../core/service/service.ts"
import type { Logbook } from "../../core/store/logbook.ts"
import { Answer } from "../../shared/answer.ts"
import { Ask } from "../../shared/questions.ts"
import { context, importTables } from "../unit/exchange/importing.ts"
import { temporaryLogbook } from "../unit/store/temporaryLogbook.ts"

export const folder = join(import.meta.dirname, "../data/kokanee-creel-2014")
export const map = [
  "Year+Month+Day=date",
  "RodHours=rod_hours",
  "Gear=lure_class",
  "KOCatch=landed:kokanee",
  "CTCatch=landed:cutthroat trout",
  "RBCatch=landed:rainbow trout",
  "BTCatch=landed:bull trout",
  "LTCatch=landed:lake trout",
  "OtherCatch=landed:other",
]

/** The real creel table in a logbook of its own, each row or each day a trip. */
export async function importKokanee(trip_is: "row" | "day"): Promise<Logbook> {
  const book = temporaryLogbook()
  const done = await importTables(
    book,
    { "interviews.csv": readFileSync(join(folder, "interviews.csv")) },
    { map, trip_is },
  )
  expect(done.refused).toEqual([])
  expect(done.already_there).toEqual([])
  expect(done.conflicts).toEqual([])
  return book
}

/** A question put to it. */
export const askKokanee = async (book: Logbook, asked: z.input<typeof Ask>): Promise<Answer> => {
  const service = makeService(
    book,
    async (facts, question) => answerAsk(facts, question),
    () => undefined,
  )
  return Answer.parse(await service["questions.ask"](Ask.parse(asked), context))
}

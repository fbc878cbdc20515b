import type { z } from "zod"
import { answerAsk } from "../../../core/questions/ask.ts"
import { isComparison, isLookThrough } from "../../../shared/answer.ts"
import type { Answer, LookThrough } from "../../../shared/answer.ts"
import type { Ask } from "../../../shared/questions.ts"
import { presets, type ReaderUnits } from "../../../shared/readerUnits.ts"
import { askOf, factsOf, type StintRecord } from "./factsOf.ts"

/** The answer of one comparison of these stints. */
export function compared(
  stints: readonly StintRecord[],
  ask: z.input<typeof Ask>,
  reader: ReaderUnits = presets.metric,
): Answer {
  const answer = answerAsk(factsOf(stints), askOf(ask), reader)
  if (!isComparison(answer)) throw new Error("a comparison was asked for, not a look through all factors")
  return answer
}

/** What came of looking through every factor of these stints. */
export function lookedThrough(
  stints: readonly StintRecord[],
  ask: Omit<z.input<typeof Ask>, "by">,
  reader: ReaderUnits = presets.metric,
): LookThrough {
  const answer = answerAsk(factsOf(stints), askOf({ ...ask, by: "all" }), reader)
  if (!isLookThrough(answer)) throw new Error("a look through all factors was asked for")
  return answer
}

export const codesOf = (answer: Answer): string[] => answer.cautions.map(({ code }) => code)

import { answerAsk } from "../../../core/questions/ask.ts"
import { isComparison } from "../../../shared/answer.ts"
import type { AnswerContrast } from "../../../shared/answer.ts"
import { askOf, factsOf } from "../../unit/questions/factsOf.ts"
import type { Told } from "../power/power.ts"
import type { Drawn } from "../seasons/season.ts"

const NAMES = ["spoon", "soft plastic on a jig head", "popping-cork rig"] as const

/** What the whole product tells, adjusted, of the first level over the others: facts, question, answer. */
export function askedOf({ level, trip, events, hours }: Drawn): Told {
  const facts = factsOf(
    Array.from(level, (at, i) => ({
      trip: `trip ${trip[i]}`,
      hours: hours[i] ?? 0,
      fish: events[i] ?? 0,
      factors: { lure_class: NAMES[at] ?? "" },
    })),
  )
  const answer = answerAsk(facts, askOf({ outcome: "landed_rate", by: "lure_class" }))
  if (!isComparison(answer)) throw new Error("one comparison was asked for")
  const against = (other: string) => {
    const found = answer.contrasts.find(
      ({ basis, a, b }) => basis === "adjusted" && [a, b].includes(NAMES[0]) && [a, b].includes(other),
    )
    return { log_ratio: logRatio(found), p: found?.p ?? null }
  }
  return { ab: against(NAMES[1]), ac: against(NAMES[2]) }
}

/** log ratio of the first level over the other, whichever comes first in the contrast. */
function logRatio(contrast: AnswerContrast | undefined): number {
  if (contrast === undefined || contrast.ratio === null) return Number.NaN
  return contrast.a === NAMES[0] ? Math.log(contrast.ratio) : -Math.log(contrast.ratio)
}

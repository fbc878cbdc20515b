import { answerAsk } from "../../../core/questions/ask.ts"
import { isComparison } from "../../../shared/answer.ts"
import type { Facts } from "../../../core/facts.ts"
import type { Answer } from "../../../shared/answer.ts"
import { bases } from "../../../shared/questions.ts"
import { askOf, factsOf, type StintRecord } from "../../unit/questions/factsOf.ts"
import { LURES } from "./world.ts"

/** The bases of an answer, the one it leads with, and the textbook Poisson interval of a spreadsheet's pivot table. */
export const VIEWS = ["pivot table", ...bases, "headline"] as const
export type View = (typeof VIEWS)[number]

/** What one logbook's contrasts on one view came to. */
export type Judged = {
  /** Contrasts with an interval. */
  answered: number
  /** Of those, the ones that hold the truth. */
  covered: number
  /** Of those, the ones that leave 1 out. */
  found: number
}

const none: Judged = { answered: 0, covered: 0, found: 0 }

type Interval = { readonly a: string; readonly b: string; readonly low: number; readonly high: number }

/** Asks one made-up logbook which lure class lands more, and holds each view's intervals of ratios against the truth. */
export function judge(stints: readonly StintRecord[], truth: readonly number[]): Record<View, Judged> {
  const facts = factsOf(stints)
  const answer = compareLures(facts)
  const of = (intervals: readonly Interval[]): Judged =>
    intervals.reduce((sum, one) => add(sum, one, truth), none)
  const on = (basis: string): Interval[] =>
    answer.contrasts
      .filter((contrast) => contrast.basis === basis)
      .map(({ a, b, low, high }) => ({ a, b, low: low ?? 0, high: high ?? Infinity }))
  return {
    "pivot table": of(pivotTable(answer)),
    raw: of(on("raw")),
    adjusted: of(on("adjusted")),
    same_trip: of(on("same_trip")),
    same_stop: of(on("same_stop")),
    headline: of(on(answer.headline.basis)),
  }
}

function compareLures(facts: Facts): Answer {
  const answer = answerAsk(facts, askOf({ outcome: "landed_rate", by: "lure_class" }))
  if (!isComparison(answer)) throw new Error("one comparison was asked for")
  return answer
}

function add(sum: Judged, { a, b, low, high }: Interval, truth: readonly number[]): Judged {
  const gives = (level: string): number => truth[LURES.findIndex((name) => name === level)] ?? Number.NaN
  const ratio = gives(a) / gives(b)
  return {
    answered: sum.answered + 1,
    covered: sum.covered + (low <= ratio && ratio <= high ? 1 : 0),
    found: sum.found + (low > 1 || high < 1 ? 1 : 0),
  }
}

/** Every fish taken for a piece of luck of its own: log ratio give or take 1.96 times sqrt(1/fish + 1/fish). */
function pivotTable({ levels }: Answer): Interval[] {
  return levels.flatMap((a, i) =>
    levels.slice(0, i).flatMap((b) => {
      if (a.events === 0 || b.events === 0) return []
      const middle = Math.log(a.events / a.rod_hours / (b.events / b.rod_hours))
      const reach = 1.96 * Math.sqrt(1 / a.events + 1 / b.events)
      return [{ a: a.level, b: b.level, low: Math.exp(middle - reach), high: Math.exp(middle + reach) }]
    }),
  )
}

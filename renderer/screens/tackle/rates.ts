import { isComparison, tripsToBeSure, type AnswerLevel } from "../../../shared/answer.ts"
import { counted, figure, hoursFigure, rangeText } from "../../../shared/figures.ts"
import { useCall } from "../../client/useCall.ts"

/** What presentations landed per rod-hour as fished, by name; null while it is being worked out. */
export function useRates(): ReadonlyMap<string, AnswerLevel> | null {
  const { value } = useCall("questions.ask", { outcome: "landed_rate", by: "presentation", basis: "raw" })
  if (value === null) return null
  return new Map(isComparison(value) ? value.levels.map((level) => [level.level, level]) : [])
}

/** Most of an axis for all of them: wide intervals are cut, so that they do not push the rest together. */
export function axisEnd(rates: ReadonlyMap<string, AnswerLevel>): number {
  const estimates = [...rates.values()].map(({ raw }) => raw.estimate ?? 0)
  return Math.max(0.5, ...estimates) * 1.6
}

export const standsOnLittle = (level: AnswerLevel): boolean => level.trips < tripsToBeSure

/** "0.42 (0.21 to 0.83)", as fished. */
export const rateText = ({ raw: { estimate, low, high } }: AnswerLevel): string =>
  estimate === null
    ? "no effort known"
    : `${figure(estimate)} (${rangeText(low, high, (end) => figure(end))})`

/** What a presentation came to, in a sentence that says what stands behind it. */
export const sayRate = (level: AnswerLevel): string =>
  `${rateText(level)} landed per rod-hour, from ${counted(level.events, "fish", "fish")} in ${hoursFigure(level.rod_hours)} rod-hours on ${counted(level.trips, "trip")}. As fished: nothing else is held alike.`

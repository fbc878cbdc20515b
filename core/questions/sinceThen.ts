import { counted, figure, rangeText, ratioFigure } from "../../shared/figures.ts"
import { inverse, type Ratio } from "./ratio.ts"
import type { KeptAnswer, Lead } from "../../shared/savedQuestions.ts"

/**
 * How an answer differs from the one before it, in words: the ratio of the same two levels then and now, what came to stand
 * behind it, and whether the method changed meanwhile. Dates are told by `dayOf`.
 */
export function sinceThen(was: KeptAnswer, now: KeptAnswer, dayOf: (instant: number) => string): string {
  const more = now.trips - was.trips
  const behind =
    more > 0
      ? `${counted(more, "trip")} and ${figure(now.rod_hours - was.rod_hours)} rod-hours more`
      : more === 0
        ? "on as many trips"
        : `${counted(-more, "trip")} fewer`
  const method =
    was.method === now.method
      ? ""
      : " The method changed meanwhile, and the two may differ for that reason alone."
  return `Since ${dayOf(was.told_at)}, ${behind}: ${change(was.lead, now.lead)}.${method}`
}

function change(was: Lead | null, now: Lead | null): string {
  if (now === null)
    return was === null ? "nothing could be compared then or now" : "nothing can be compared now"
  const names = `${now.a} over ${now.b}`
  if (was === null) return `${names} could not be told then, now ${told(now)}`
  const same = was.a === now.a && was.b === now.b
  const turned = was.a === now.b && was.b === now.a
  if (!same && !turned) return `it was about ${was.a} over ${was.b}, ${told(was)}; now ${names}, ${told(now)}`
  return `${names} was ${told(same ? was : inverse(was))}, now ${told(now)}${was.basis === now.basis ? "" : `, on another basis (${now.basis.replace("_", " ")} instead of ${was.basis.replace("_", " ")})`}`
}

const told = ({ ratio, low, high }: Ratio): string =>
  ratio === null ? "unknown" : `${ratioFigure(ratio)} (${rangeText(low, high, ratioFigure)})`

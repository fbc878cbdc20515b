import { answerAsk } from "../../../core/questions/ask.ts"
import { isComparison, isLookThrough } from "../../../shared/answer.ts"
import type { Random } from "../../../core/stats/random.ts"
import { askOf, factsOf, type StintRecord } from "../../unit/questions/factsOf.ts"
import { unrelatedOfDay, unrelatedOfStint } from "./unrelated.ts"
import { drawWorld, type World } from "./world.ts"

/** What is called a finding. */
const MOST_Q = 0.1

export type LookedThrough = {
  readonly logbooks: number
  /** Findings, and those of them that have nothing to do with what is caught. */
  readonly findings: number
  readonly falseFindings: number
  /** Mean over logbooks of the share of findings that are false, 0 where there is none. */
  readonly falseShare: number
  /** Logbooks in which light, which has its effect in every one, is found. */
  readonly lightFound: number
}

/** Looks through every factor of made-up logbooks in which the lure classes and the pause give nothing. */
export function lookThroughWorld(random: Random, world: World, logbooks: number): LookedThrough {
  const idle = new Set([
    "lure_class",
    "pause_s",
    ...Object.keys(unrelatedOfDay(random)),
    ...Object.keys(unrelatedOfStint(random)),
  ])
  const sum = { findings: 0, falseFindings: 0, falseShare: 0, lightFound: 0 }
  for (let logbook = 0; logbook < logbooks; logbook++) {
    const found = findings(drawWorld(random, world))
    const wrong = found.filter((factor) => idle.has(factor)).length
    sum.findings += found.length
    sum.falseFindings += wrong
    sum.falseShare += found.length === 0 ? 0 : wrong / found.length / logbooks
    sum.lightFound += found.includes("light") ? 1 : 0
  }
  return { logbooks, ...sum }
}

function findings(stints: readonly StintRecord[]): string[] {
  const answer = answerAsk(factsOf(stints), askOf({ outcome: "landed_rate", by: "all" }))
  if (!isLookThrough(answer)) throw new Error("a look through everything was asked for")
  return answer.factors.flatMap(({ factor, q }) => (q !== null && q <= MOST_Q ? [factor] : []))
}

/** The share of logbooks in which the pause is said to depend on water temperature (p at most 0.05), and those answered. */
export function dependsOnWater(
  random: Random,
  world: World,
  logbooks: number,
): { readonly found: number; readonly answered: number } {
  let [found, answered] = [0, 0]
  for (let logbook = 0; logbook < logbooks; logbook++) {
    const answer = answerAsk(
      factsOf(drawWorld(random, world)),
      askOf({ outcome: "landed_rate", by: "pause_s", depends_on: "water_temp_c" }),
    )
    const p = isComparison(answer) ? (answer.interaction?.p ?? null) : null
    if (p === null) continue
    answered++
    if (p <= 0.05) found++
  }
  return { found, answered }
}

import type { FactorId } from "../../../shared/factors.ts"
import { counted, rangeText, ratioFigure } from "../../../shared/figures.ts"
import type { Basis } from "../../../shared/questions.ts"
import type { RatioEstimate } from "../estimate.ts"
import { nameOfHeld } from "../held/candidates.ts"
import { notAsked, type Told } from "./basesOf.ts"
import { basisWords } from "./basisWords.ts"
import type { Part } from "./explained.ts"

/** How one basis stands to the one that leads, for the pair an answer is about. */
export type Standing = {
  readonly basis: Basis
  readonly says: "leads" | "agrees" | "differs" | "nothing"
  readonly text: string
}

/** A part of a log ratio below this explains nothing. Ours. */
const worthNaming = 0.1
const parts = 2

/** Two bases agree where each one's ratio lies within the other's interval. */
export function agree(x: RatioEstimate, y: RatioEstimate): boolean {
  const within = (ratio: number | null, { low, high }: RatioEstimate) =>
    ratio !== null && ratio >= (low ?? 0) && ratio <= (high ?? Number.POSITIVE_INFINITY)
  return within(x.ratio, y) && within(y.ratio, x)
}

/** "1.4 (1.1 to 1.9)". */
export function ratioText({ ratio, low, high }: RatioEstimate): string {
  if (ratio === null) return low === null || low === 0 ? "no ratio" : `at least ${ratioFigure(low)}`
  if (ratio === 0) return high === null ? "0 (no upper limit)" : `0 (at most ${ratioFigure(high)})`
  const range = low === null && high === null ? "no interval" : rangeText(low, high, ratioFigure)
  return `${ratioFigure(ratio)} (${range})`
}

/** What stands behind words such as "thrown at better times": factors told by the time, and those told by other things. */
const whyBetter = (of: FactorId | "trips"): string => {
  if (of === "trips") return "fished more on good days"
  if (of === "angler") return "fished more by the better anglers"
  if (of === "spot") return "fished more at the better spots"
  if (of === "order_in_stop") return "fished sooner at a stop, when fish are unspooked"
  return `fished at better times (${nameOfHeld(of)})`
}
const turned = (text: string): string =>
  text
    .replace("better", "worse")
    .replace("good days", "poor days")
    .replace("sooner at a stop, when fish are unspooked", "later at a stop, when fish are spooked")

/** What makes a ratio as fished larger or smaller than one with those things alike: "a was fished more on good days". */
export function explain(
  name: string,
  raw: RatioEstimate,
  fair: RatioEstimate,
  explained: readonly Part[],
): string | null {
  if (raw.ratio === null || fair.ratio === null || raw.ratio === 0 || fair.ratio === 0) return null
  const gap = Math.log(raw.ratio / fair.ratio)
  const same = explained.filter(({ log }) => log * gap > 0 && Math.abs(log) > worthNaming).slice(0, parts)
  if (same.length === 0) return null
  const clauses = same.map(({ of }) => (gap > 0 ? whyBetter(of) : turned(whyBetter(of))))
  return `${name} was ${clauses.join(" and ")}`
}

/** Each basis beside the leading one, in words. `name` is the level the ratio is of. */
export function standings(
  lead: Basis,
  of: (basis: Basis) => Told,
  explained: readonly Part[],
  name: string,
): Standing[] {
  const led = of(lead)
  const asked = (["same_stop", "same_trip", "adjusted", "raw"] as const).flatMap((basis) => {
    const told = of(basis)
    return !told.told && told.why === notAsked ? [] : { basis, told }
  })
  return asked.map(({ basis, told }): Standing => {
    if (!told.told)
      return { basis, says: "nothing", text: `${basisWords[basis]}: cannot be answered here. ${told.why}.` }
    const ratio = `${basisWords[basis]}: ${ratioText(told.estimate)}`
    const behind = told.shared === null ? "" : `, ${counted(told.shared.trips, "trip")} with both`
    if (basis === lead || !led.told) return { basis, says: "leads", text: `${ratio}${behind}.` }
    if (told.estimate.ratio === null || told.estimate.p === null)
      return { basis, says: "nothing", text: `${ratio}${behind}.` }
    if (agree(told.estimate, led.estimate))
      return { basis, says: "agrees", text: `${ratio}${behind}: agrees.` }
    return {
      basis,
      says: "differs",
      text: `${ratio}${behind}: differs, because ${because(basis, told, led, explained, name)}.`,
    }
  })
}

function because(basis: Basis, told: Told, led: Told, explained: readonly Part[], name: string): string {
  const fewer = [told, led].find(({ shared }) => shared !== null && shared.trips < fewTrips)
  if (basis === "raw" && told.told && led.told) {
    const why = explain(name, told.estimate, led.estimate, explained)
    if (why !== null) return why
  }
  if (fewer !== undefined) return `only ${counted(fewer.shared?.trips ?? 0, "trip")} hold both`
  return "lures differ from day to day, and it weighs the days otherwise"
}

const fewTrips = 8

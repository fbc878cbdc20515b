import type { FactorId } from "../../../shared/factors.ts"
import { counted } from "../../../shared/figures.ts"
import type { Basis } from "../../../shared/questions.ts"
import type { RatioEstimate } from "../estimate.ts"
import { nameOfHeld } from "../held/candidates.ts"
import { inverse, ratioText } from "../ratio.ts"
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

/**
 * Each basis beside the leading one, in words, all read the way the answer's sentence is: with the level first that comes out
 * larger on the leading basis. `ratios_of` says which that is; `a` and `b` are the names of the levels that the ratios set in one
 * another's proportion.
 */
export function standings(
  lead: Basis,
  of: (basis: Basis) => Told,
  explained: readonly Part[],
  { a, b }: { readonly a: string; readonly b: string },
): { readonly ratios_of: string; readonly standings: Standing[] } {
  const led = of(lead)
  const turned = led.told && led.estimate.ratio !== null && led.estimate.ratio > 0 && led.estimate.ratio < 1
  const [more, less] = turned ? [b, a] : [a, b]
  const asked = (["same_stop", "same_trip", "adjusted", "raw"] as const).flatMap((basis) => {
    const told = of(basis)
    return !told.told && told.why === notAsked ? [] : { basis, told }
  })
  const each = asked.map(({ basis, told }): Standing => {
    if (!told.told)
      return { basis, says: "nothing", text: `${basisWords[basis]}: cannot be answered here. ${told.why}.` }
    const ratio = `${basisWords[basis]}: ${ratioText(turned ? inverse(told.estimate) : told.estimate)}`
    const behind = told.shared === null ? "" : `, ${counted(told.shared.trips, "trip")} with both`
    if (basis === lead || !led.told) return { basis, says: "leads", text: `${ratio}${behind}.` }
    if (told.estimate.ratio === null || told.estimate.p === null)
      return { basis, says: "nothing", text: `${ratio}${behind}.` }
    if (agree(told.estimate, led.estimate))
      return { basis, says: "agrees", text: `${ratio}${behind}: agrees.` }
    return {
      basis,
      says: "differs",
      text: `${ratio}${behind}: differs, because ${because(basis, told, led, explained, a)}.`,
    }
  })
  return { ratios_of: `${more} over ${less}`, standings: each }
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

import type { Facts } from "../facts.ts"
import { uncapital } from "../../shared/casing.ts"
import type { Answer } from "../../shared/answer.ts"
import { counted } from "../../shared/figures.ts"
import { basisWords } from "./bases/basisWords.ts"
import type { Compared } from "./compared.ts"
import { total } from "./gather.ts"
import { pairAmong } from "./pairAmong.ts"
import { ratioText } from "./ratio.ts"
import { tripsToSay } from "./scale.ts"

/** Events that each level must have left for the pair to be compared again. Ours. */
const eventsToCompare = 5

/**
 * The pair that leads, compared again on the stints that came up by plan: the trip's first of each angler, and those after a stint
 * that ended by a planned change. What is tied on because nothing bit is left out with what it was tied on for. Null where no
 * reason for a change is noted.
 */
export function plannedChanges({ prepared, by, gathered, headline, nameOf }: Compared): Answer["planned"] {
  const { facts } = prepared
  if (headline === null) return null
  const noted = gathered.all.rows.filter((stint) => facts.why_changed[stint] != null).length
  if (noted === 0) return null
  const byPlan = startedByPlan(facts)
  const rows = [headline.pair.a, headline.pair.b].flatMap((group) => group.rows)
  const stints = rows.filter((stint) => byPlan[stint] === 1).length
  const about = { noted, stints, of_stints: rows.length }
  const found = pairAmong(prepared, by, gathered, headline.pair, (stint) => byPlan[stint] === 1)
  const enough =
    found !== null &&
    found.trips.every((trips) => trips >= tripsToSay) &&
    found.groups.every((group) => group !== undefined && total(group.events) >= eventsToCompare)
  const [a, b] = [headline.pair.a, headline.pair.b].map(({ label }) => nameOf(label))
  const reasons = counted(noted, "reason")
  if (!enough || found.estimate === null)
    return {
      ...about,
      basis: null,
      ratio: null,
      low: null,
      high: null,
      sentence: `${reasons} for a change ${noted === 1 ? "is" : "are"} noted, which leaves ${counted(stints, "stint")} that came up by plan: too few to compare on these alone.`,
    }
  const { basis, estimate } = found
  const words = basisWords[basis]
  return {
    ...about,
    basis,
    ratio: estimate.ratio,
    low: estimate.low,
    high: estimate.high,
    sentence: `Only on the ${stints} of ${counted(rows.length, "stint")} that came up by plan (a trip's first, or after a planned change; ${reasons} noted), ${a ?? ""} over ${b ?? ""} is ${ratioText(estimate)}, ${uncapital(words)}.`,
  }
}

/** 1 for each stint that was its angler's first of the trip or followed a planned change; stints without times as they stand. */
function startedByPlan(facts: Facts): Uint8Array {
  const byPlan = new Uint8Array(facts.stints)
  const angler = facts.factors.angler
  const lane = (stint: number): string =>
    `${facts.trip[stint] ?? -1} ${angler?.kind === "level" ? (angler.codes[stint] ?? -1) : -1}`
  const lanes = Map.groupBy(byPlan.keys(), lane)
  for (const stints of lanes.values()) {
    const inTime = stints.toSorted((x, y) => (facts.start[x] ?? 0) - (facts.start[y] ?? 0) || x - y)
    inTime.forEach((stint, k) => {
      const before = inTime[k - 1]
      byPlan[stint] = before === undefined || facts.why_changed[before] === "planned" ? 1 : 0
    })
  }
  return byPlan
}

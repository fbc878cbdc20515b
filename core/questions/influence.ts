import type { Facts } from "../facts.ts"
import type { Headline, Influence, LevelInfluence } from "./compared.ts"
import type { Estimator } from "./estimate.ts"
import type { Gathered } from "./gather.ts"

/** The trip that moves the leading ratio most. */
export function influenceOnRatio(facts: Facts, { without }: Headline): Influence | null {
  if (without === null) return null
  const { estimate } = without
  return {
    ...tripNamed(facts, without.trip),
    change: without.change,
    level: null,
    without: estimate === null ? null : { ratio: estimate.ratio, low: estimate.low, high: estimate.high },
  }
}

/** The trip that moves some level's estimate as fished most. */
export function influenceOnLevel(
  facts: Facts,
  gathered: Gathered,
  estimator: Estimator,
): LevelInfluence | null {
  let worst: LevelInfluence | null = null
  for (const group of gathered.levels) {
    const found = estimator.influence(group)
    if (found === null) continue
    if (worst !== null && Math.abs(Math.log(found.change)) <= Math.abs(Math.log(worst.change))) continue
    const place = gathered.trips[found.trip] ?? -1
    worst = { ...tripNamed(facts, place), change: found.change, level: group.label, without: null }
  }
  return worst
}

/** A trip by its place in the facts: its name for the reader, and its id. */
export const tripNamed = ({ trips, trip_ids }: Facts, place: number) => ({
  trip: trips[place] ?? "",
  trip_id: trip_ids[place] ?? "",
})

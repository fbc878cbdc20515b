import { byYear } from "../tide/tideCurve.ts"
import { lastBefore } from "../tide/waters.ts"
import type { CurrentCurve, CurrentEvent, CurrentEventKind, Directions } from "./currentCurve.ts"

/** What turns a reference station's events into a place's own: minutes later by event, and ratios of the strengths. */
export type CurrentOffsets = {
  readonly slack_before_flood_min: number
  readonly flood_min: number
  readonly slack_before_ebb_min: number
  readonly ebb_min: number
  readonly flood_ratio: number
  readonly ebb_ratio: number
}

type Pair = { readonly at: number; readonly reference: CurrentEvent; readonly own: CurrentEvent }

/** Events this far apart hold a gap: an event between them was left out. */
const longestStep = 18 * 3_600_000

/**
 * The current of a place that follows a reference station by offsets. Between its slacks and strengths the reference's own
 * curve is drawn out in time and speed to fit: an interpolation. On a day on which the offsets would make events change
 * places the speed cannot be told. Source of the rule: National Ocean Service tidal current tables, table 2 (from memory).
 */
export function shiftedCurrent(
  reference: CurrentCurve,
  offsets: CurrentOffsets,
  directions: Directions,
): CurrentCurve {
  const pairsAround = byYear((from, to) =>
    reference.eventsAround((from + to) / 2).map((event) => {
      const own = shiftedEvent(event, offsets)
      return { at: own.at, reference: event, own }
    }),
  )
  const ordered = byYear((from, to) => inOrder(pairsAround((from + to) / 2)))
  return {
    speedAt: (at) => {
      const pairs = ordered(at)
      const i = lastBefore(pairs, at)
      const from = pairs[i]
      const to = pairs[i + 1]
      if (from === undefined || to === undefined || to.at - from.at > longestStep) return null
      if (!follows(from.own.kind, to.own.kind)) return null
      const through = (at - from.at) / (to.at - from.at)
      const known = reference.speedAt(from.reference.at + through * (to.reference.at - from.reference.at))
      const strength = from.own.speed_ms === 0 ? to : from
      return known === null || strength.reference.speed_ms === 0
        ? null
        : known * (strength.own.speed_ms / strength.reference.speed_ms)
    },
    eventsAround: byYear((from, to) => ordered((from + to) / 2).map(({ own }) => own)),
    ...directions,
    interpolated: true,
  }
}

function shiftedEvent({ kind, at, speed_ms }: CurrentEvent, offsets: CurrentOffsets): CurrentEvent {
  const minutes: Record<CurrentEventKind, number> = {
    "slack before flood": offsets.slack_before_flood_min,
    flood: offsets.flood_min,
    "slack before ebb": offsets.slack_before_ebb_min,
    ebb: offsets.ebb_min,
  }
  const ratio = kind === "flood" ? offsets.flood_ratio : kind === "ebb" ? offsets.ebb_ratio : 1
  return { kind, at: Math.round(at + minutes[kind] * 60_000), speed_ms: speed_ms * ratio }
}

/** Leaves out events that the offsets made change places. */
function inOrder(pairs: readonly Pair[]): Pair[] {
  const crossed = new Set<Pair>()
  for (const [i, pair] of pairs.entries()) {
    const next = pairs[i + 1]
    if (next !== undefined && next.at <= pair.at) crossed.add(pair).add(next)
  }
  return pairs.filter((pair) => !crossed.has(pair))
}

const after: Record<CurrentEventKind, CurrentEventKind> = {
  "slack before flood": "flood",
  flood: "slack before ebb",
  "slack before ebb": "ebb",
  ebb: "slack before flood",
}

const follows = (first: CurrentEventKind, second: CurrentEventKind): boolean => after[first] === second

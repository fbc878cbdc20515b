import { lastBefore } from "../tide/waters.ts"
import type { CurrentCurve, CurrentEvent, CurrentEventKind } from "./currentCurve.ts"

/** The tidal current at an instant: speed (m/s, never negative), where it sets (degrees true) and what it is doing. */
export type CurrentState = {
  readonly speed_ms: number | null
  readonly direction_deg: number | null
  readonly stage: CurrentEventKind | null
}

/** Below this part of the strength beside it a current is slack: some 24 minutes each side of a sine's zero. Ours. */
const slackShare = 0.2
/** Strength (m/s, a tenth of a knot) below which a current has no stages: weak and variable. Ours. */
const weakest_ms = 0.05

/** The current at an instant in UTC ms; null where it cannot be told that day. */
export function currentAt(curve: CurrentCurve, at: number): CurrentState | null {
  const speed = curve.speedAt(at)
  if (speed === null) return null
  return {
    speed_ms: Math.abs(speed),
    direction_deg: speed >= 0 ? curve.flood_direction_deg : curve.ebb_direction_deg,
    stage: stageOf(curve.eventsAround(at), at, speed),
  }
}

function stageOf(events: readonly CurrentEvent[], at: number, speed: number): CurrentEventKind | null {
  const i = lastBefore(events, at)
  const strength = Math.max(...[events[i], events[i + 1]].map((event) => Math.abs(event?.speed_ms ?? 0)))
  if (strength < weakest_ms) return null
  if (Math.abs(speed) >= slackShare * strength) return speed > 0 ? "flood" : "ebb"
  return nearestSlack(events, i, at) ?? (speed > 0 ? "flood" : "ebb")
}

function nearestSlack(events: readonly CurrentEvent[], i: number, at: number): CurrentEventKind | null {
  const slacks = [events[i], events[i + 1]].filter((event) => event?.speed_ms === 0)
  const [slack] = slacks.toSorted((a, b) => Math.abs((a?.at ?? 0) - at) - Math.abs((b?.at ?? 0) - at))
  return slack?.kind ?? null
}

/** Minutes after high and after low water at which a place was seen to go slack. */
export type SlackOffsets = { readonly after_high_min: number; readonly after_low_min: number }

/**
 * The stage of a current whose slacks the user timed against a station's tide; no speed follows from that. Between
 * slacks the flow is taken for a sine, as wide about slack as `slackShare` says. `waters` are the station's high and low
 * waters about the instant. Null where they do not reach.
 */
export function stageFromSlacks(
  waters: readonly { readonly kind: "high" | "low"; readonly at: number }[],
  { after_high_min, after_low_min }: SlackOffsets,
  at: number,
): CurrentEventKind | null {
  const slacks = waters
    .map((water) => ({
      before: water.kind === "high" ? ("ebb" as const) : ("flood" as const),
      at: water.at + (water.kind === "high" ? after_high_min : after_low_min) * 60_000,
    }))
    .toSorted((a, b) => a.at - b.at)
  const i = lastBefore(slacks, at)
  const from = slacks[i]
  const to = slacks[i + 1]
  if (from === undefined || to === undefined || from.before === to.before) return null
  const through = (at - from.at) / (to.at - from.at)
  if (Math.sin(Math.PI * through) >= slackShare) return from.before
  return through < 0.5 ? `slack before ${from.before}` : `slack before ${to.before}`
}

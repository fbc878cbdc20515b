import { harmonicSignal } from "../tide/harmonicSignal.ts"
import type { HarmonicConstant } from "../tide/harmonicSum.ts"
import { byYear } from "../tide/tideCurve.ts"

/** What a reversing current does by turns, in this order. */
export const currentEventKinds = ["slack before flood", "flood", "slack before ebb", "ebb"] as const
export type CurrentEventKind = (typeof currentEventKinds)[number]

/** A slack, or the strongest flow between two slacks: instant in UTC ms, speed along the axis (flood positive), m/s. */
export type CurrentEvent = { readonly kind: CurrentEventKind; readonly at: number; readonly speed_ms: number }

/** The predicted tidal current of a place over time, along its flood and ebb directions (degrees true, towards). */
export type CurrentCurve = {
  /** Speed along the axis at an instant in UTC ms, m/s, flood positive; null where it cannot be told that day. */
  readonly speedAt: (at: number) => number | null
  /** Events of the calendar year (UTC) that holds `at`, with some days before and after it, in time. */
  readonly eventsAround: (at: number) => readonly CurrentEvent[]
  readonly flood_direction_deg: number | null
  readonly ebb_direction_deg: number | null
  /** Whether speeds between slacks and strengths are interpolated rather than predicted. */
  readonly interpolated: boolean
}

export type Directions = Pick<CurrentCurve, "flood_direction_deg" | "ebb_direction_deg">

/**
 * A current from harmonic constants along its axis (amplitudes in m/s, phase lags on the UTC meridian in degrees) and a
 * mean flow (m/s, flood positive). Slack is where the whole sum, mean flow included, passes zero. Source: Schureman
 * (1958) US C&GS Special Publication 98, prediction of tidal currents.
 */
export function harmonicCurrent(
  constants: readonly HarmonicConstant[],
  meanFlow_ms: number,
  directions: Directions,
): CurrentCurve {
  const signal = harmonicSignal(constants, meanFlow_ms)
  return {
    speedAt: signal.valueAt,
    eventsAround: byYear((from, to) => {
      const slacks = signal.crossings("value", from, to)
      const peaks = signal.crossings("rate", from, to).map(({ at, value }) => ({ at, speed_ms: value }))
      const events: CurrentEvent[] = []
      let peak = 0
      for (const [i, { at, upwards }] of slacks.entries()) {
        events.push({ kind: upwards ? "slack before flood" : "slack before ebb", at, speed_ms: 0 })
        const end = slacks[i + 1]?.at
        if (end === undefined) break
        let strongest: { at: number; speed_ms: number } | null = null
        for (; peak < peaks.length; peak++) {
          const candidate = peaks[peak]
          if (candidate === undefined || candidate.at >= end) break
          if (candidate.at <= at) continue
          if (strongest === null || Math.abs(candidate.speed_ms) > Math.abs(strongest.speed_ms))
            strongest = candidate
        }
        if (strongest !== null) events.push({ kind: upwards ? "flood" : "ebb", ...strongest })
      }
      return events
    }),
    ...directions,
    interpolated: false,
  }
}

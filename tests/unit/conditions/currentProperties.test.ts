// What must hold of every tidal current that ships, and of a place where only its slacks are known: definitions of the words,
// looked for at stations and instants drawn by seed. Outside numbers are in tests/reference/currents.test.ts.
import fc from "fast-check"
import { describe, expect, test } from "vitest"
import { conditionsFrom } from "../../../core/conditions/compute.ts"
import {
  currentEventKinds,
  type CurrentCurve,
  type CurrentEvent,
} from "../../../core/conditions/current/currentCurve.ts"
import { currentAt } from "../../../core/conditions/current/currentState.ts"
import { currentHere, currentOf, tideHere, type SpotWater } from "../../../core/conditions/spotWater.ts"
import { stationsWith } from "../../../core/conditions/stations/stations.ts"
import { drawStations } from "./shippedStations.ts"

const stations = stationsWith([])
const minute = 60_000
const hour = 60 * minute
const currents = [
  ...drawStations({ kind: "current", by: "constants" }, 20, 43),
  ...drawStations({ kind: "current", by: "offsets" }, 20, 44),
]

function curveOf(id: string): CurrentCurve {
  const current = stations.current(id)
  if (current === null) throw new Error(`no station ${id}`)
  return current.curve
}

const currentStation = fc.constantFrom(...currents.map(({ id }) => id))
const tideStation = fc.constantFrom(
  ...[
    ...drawStations({ kind: "tide", by: "constants" }, 15, 45),
    ...drawStations({ kind: "tide", by: "offsets" }, 15, 46),
  ].map(({ id }) => id),
)
/** Two New Years, and few years, as each costs a curve some milliseconds. */
const instant = fc.integer({ min: Date.UTC(2024, 9, 1), max: Date.UTC(2026, 2, 31) })
const runs = { numRuns: 1500, seed: 2026 }

const near = (curve: CurrentCurve, at: number, hours: number): CurrentEvent[] =>
  curve.eventsAround(at).filter((event) => Math.abs(event.at - at) <= hours * hour)
/** Strength of the flow on both sides of an instant, m/s: of what runs, and of what ran or will run beyond its slack. */
const strongestNear = (events: readonly CurrentEvent[], at: number): number => {
  const before = events.findLast((event) => event.at <= at)
  const after = events.find((event) => event.at > at)
  return Math.max(Math.abs(before?.speed_ms ?? 0), Math.abs(after?.speed_ms ?? 0))
}

describe("any current at any instant", () => {
  test("it floods where its speed is positive and ebbs where it is negative, towards its own two directions", () => {
    const seen = new Set<string | null>()
    fc.assert(
      fc.property(currentStation, instant, (id, at) => {
        const curve = curveOf(id)
        const speed = curve.speedAt(at)
        const state = currentAt(curve, at)
        expect(state === null).toBe(speed === null)
        if (speed === null || state === null) return
        expect(state.speed_ms).toBe(Math.abs(speed))
        expect(state.direction_deg).toBe(speed >= 0 ? curve.flood_direction_deg : curve.ebb_direction_deg)
        seen.add(state.stage)
        const notThen = speed > 0 ? "ebb" : "flood"
        expect(state.stage).not.toBe(notThen)
      }),
      runs,
    )
    expect(seen).toEqual(new Set([...currentEventKinds, null]))
  })

  test("it is slack only where it is weak, and is named for the slack that the flow came from or goes to", () => {
    fc.assert(
      fc.property(currentStation, instant, (id, at) => {
        const curve = curveOf(id)
        const { stage = null, speed_ms } = currentAt(curve, at) ?? {}
        if (stage === null || !stage.startsWith("slack")) return
        // A slack reaches as far as a fifth of the strength beside it: the width is ours, see currentState.ts. Where a weak
        // daily flow falters half way, that may be hours from its slack (Long Point, SAB0812, does so).
        expect(speed_ms).toBeLessThan(0.2 * strongestNear(curve.eventsAround(at), at))
        const slacks = near(curve, at, 36).filter((event) => event.speed_ms === 0)
        const last = slacks.findLast((event) => event.at <= at)
        const next = slacks.find((event) => event.at > at)
        expect([last?.kind, next?.kind]).toContain(stage)
      }),
      runs,
    )
  })

  test("within minutes of a slack of a current of some strength it is called that slack", () => {
    let told = 0
    fc.assert(
      fc.property(currentStation, instant, fc.integer({ min: -3, max: 3 }), (id, at, from) => {
        const curve = curveOf(id)
        const events = near(curve, at, 24)
        for (const [i, event] of events.entries()) {
          const beside = [events[i - 1], events[i + 1]].map((other) => Math.abs(other?.speed_ms ?? 0))
          // A sine of the tide's period stays below a fifth of its strength for some 24 minutes each side of its zero.
          if (event.speed_ms !== 0 || Math.min(...beside) < 0.3) continue
          const state = currentAt(curve, event.at + from * minute)
          if (state === null) continue // offsets made an event before or after it change places
          told++
          expect(state.stage).toBe(event.kind)
        }
      }),
      { numRuns: 300, seed: 2026 },
    )
    expect(told).toBeGreaterThan(100)
  })

  test("at each slack the speed is zero and changes to the side that the slack is named for", () => {
    fc.assert(
      fc.property(currentStation, instant, (id, at) => {
        const curve = curveOf(id)
        for (const event of near(curve, at, 24)) {
          if (event.speed_ms !== 0) continue
          const way = event.kind === "slack before flood" ? 1 : -1
          const [before, now, after] = [-minute, 0, minute].map((step) => curve.speedAt(event.at + step))
          // An instant is kept to a millisecond: the fastest here turns by 1e-6 m/s in one.
          expect(Math.abs(now ?? 0)).toBeLessThan(1e-5)
          expect((before ?? -way) * way).toBeLessThan(0)
          expect((after ?? way) * way).toBeGreaterThan(0)
        }
      }),
      { numRuns: 300, seed: 2026 },
    )
  })

  test("a strength is no weaker than the flow an hour to either side of it that runs the same way", () => {
    fc.assert(
      fc.property(currentStation, instant, (id, at) => {
        const curve = curveOf(id)
        const events = near(curve, at, 24)
        for (const [i, event] of events.entries()) {
          if (event.speed_ms === 0) continue
          const from = Math.max(event.at - hour, events[i - 1]?.at ?? event.at)
          const to = Math.min(event.at + hour, events[i + 1]?.at ?? event.at)
          for (const time of [from, (from + event.at) / 2, (event.at + to) / 2, to])
            expect(Math.abs(curve.speedAt(Math.round(time)) ?? 0)).toBeLessThan(
              Math.abs(event.speed_ms) + 1e-6,
            )
        }
      }),
      { numRuns: 300, seed: 2026 },
    )
  })
})

/** A spot far from every current station, whose tide is this station's. */
const spotAt = (tide_station: string, slacks: { high: number; low: number } | null): SpotWater => ({
  lat: null,
  lon: null,
  tide_station,
  current_station: null,
  lag_high_min: null,
  lag_low_min: null,
  slack_after_high_min: slacks?.high ?? null,
  slack_after_low_min: slacks?.low ?? null,
})

describe("a place without a current station", () => {
  test("has no current at all, however its tide stands: a height is never taken for a flow", () => {
    const conditionsOf = conditionsFrom(stations)
    fc.assert(
      fc.property(tideStation, instant, (id, at) => {
        const spot = spotAt(id, null)
        expect(currentOf(spot, tideHere(spot, stations), currentHere(spot, stations), at)).toBeNull()
        const conditions = conditionsOf({ start_at: at, end_at: null, zone: "UTC", spot })
        expect(conditions).toMatchObject({
          tide_station: id,
          current_station: null,
          current_stage: null,
          current_speed_ms: null,
        })
      }),
      runs,
    )
  })

  test("whose slacks were timed goes slack at exactly those minutes after high and low water, and has no speed", () => {
    const lag = fc.integer({ min: -60, max: 150 })
    let told = 0
    fc.assert(
      fc.property(tideStation, instant, lag, lag, (id, at, high, low) => {
        const spot = spotAt(id, { high, low })
        const tide = tideHere(spot, stations)
        const stageAt = (time: number) => currentOf(spot, tide, null, time)?.stage
        const waters = (tide?.curve.watersAround(at).tides ?? []).filter(
          (w) => Math.abs(w.at - at) < 30 * hour,
        )
        const slackOf = (water: (typeof waters)[number] | undefined) =>
          (water?.at ?? Number.NaN) + (water?.kind === "high" ? high : low) * minute
        for (const [i, water] of waters.entries()) {
          const [last, slack, next] = [slackOf(waters[i - 1]), slackOf(water), slackOf(waters[i + 1])]
          // Offsets that would make the slacks of a small tide change places tell nothing about it.
          if (!(last < slack && slack < next)) continue
          told++
          const [before, after] = water.kind === "high" ? ["flood", "ebb"] : ["ebb", "flood"]
          expect(stageAt(slack)).toBe(`slack before ${after}`)
          expect(stageAt(slack - 1)).toBe(`slack before ${after}`)
          expect(stageAt((last + slack) / 2)).toBe(before)
          expect(stageAt((slack + next) / 2)).toBe(after)
          expect(currentOf(spot, tide, null, slack)).toMatchObject({ speed_ms: null, direction_deg: null })
        }
      }),
      { numRuns: 400, seed: 2026 },
    )
    expect(told).toBeGreaterThan(1000)
  })
})

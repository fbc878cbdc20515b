// What must hold of every tide, whatever the station: properties looked for at stations and instants drawn by seed from those
// that ship. No outside numbers here (tests/reference has them): these are definitions of the words and of the offsets' rule.
import fc from "fast-check"
import { describe, expect, test } from "vitest"
import { tideHere, type SpotWater } from "../../../core/conditions/spotWater.ts"
import { stationFile } from "../../../core/conditions/stations/stationFile.ts"
import { stationsWith } from "../../../core/conditions/stations/stations.ts"
import { shiftedTide } from "../../../core/conditions/tide/shiftedTide.ts"
import type { TideCurve } from "../../../core/conditions/tide/tideCurve.ts"
import { tideAt } from "../../../core/conditions/tide/tideState.ts"
import type { Water } from "../../../core/conditions/tide/waters.ts"
import { drawStations } from "./shippedStations.ts"

const stations = stationsWith([])
const minute = 60_000
const hour = 60 * minute
const day = 24 * hour
const ownTides = drawStations({ kind: "tide", by: "constants" }, 20, 41)
const followingTides = drawStations({ kind: "tide", by: "offsets" }, 20, 42)

function curveOf(id: string): TideCurve {
  const tide = stations.tide(id)
  if (tide === null) throw new Error(`no station ${id}`)
  return tide.curve
}

const oneOf = (some: typeof ownTides) => fc.constantFrom(...some.map(({ id }) => id))
const tideStation = oneOf([...ownTides, ...followingTides])
/** Two New Years, and few years, as each costs a curve some milliseconds. */
const instant = fc.integer({ min: Date.UTC(2024, 9, 1), max: Date.UTC(2026, 2, 31) })
const runs = { numRuns: 400, seed: 2026 }

/** Tides about an instant: the waters from `hours` before it to `hours` after it. */
const tidesNear = (curve: TideCurve, at: number, hours: number): Water[] =>
  curve.watersAround(at).tides.filter((water) => Math.abs(water.at - at) <= hours * hour)

/** At New Year the node factors change, and the curve jumps: by 2.5 cm at most (tests/simulation/tideStations.test.ts). */
const holdsNewYear = (from: number, to: number): boolean =>
  new Date(from).getUTCFullYear() !== new Date(to).getUTCFullYear()
const newYearJump_m = 0.13
/** A root is kept to a millisecond, in which a tide of some metres moves by less than this. */
const rounding_m = 1e-6

describe("any tide at any instant", () => {
  test("highs and lows come by turns, each rising or falling by 3 cm or more, in whole milliseconds", () => {
    fc.assert(
      fc.property(oneOf(ownTides), instant, (id, at) => {
        const tides = tidesNear(curveOf(id), at, 72)
        for (const [i, water] of tides.entries()) {
          const next = tides[i + 1]
          if (next === undefined) break
          expect(Number.isSafeInteger(water.at)).toBe(true)
          expect(next.at).toBeGreaterThan(water.at)
          expect(next.kind).not.toBe(water.kind)
          const rise = (next.height_m - water.height_m) * (next.kind === "high" ? 1 : -1)
          expect(rise).toBeGreaterThanOrEqual(0.03)
        }
      }),
      runs,
    )
  })

  test("the phase grows from 0 at low water past pi at high water to 2 pi, and starts again", () => {
    fc.assert(
      fc.property(tideStation, instant, (id, at) => {
        const curve = curveOf(id)
        const tides = tidesNear(curve, at, 60)
        const first = tides.findIndex(({ kind }) => kind === "low")
        const [low, high, nextLow] = tides.slice(first, first + 3)
        if (first < 0 || low === undefined || high === undefined || nextLow === undefined) return
        const phases = [low.at, (low.at + high.at) / 2, high.at, (high.at + nextLow.at) / 2, nextLow.at - 1]
          .map(Math.floor)
          .map((time) => tideAt(curve, time).phase_rad)
        if (phases.includes(null)) return // too weak a tide for a phase
        const told = phases.map(Number)
        const [atLow = Number.NaN, , atHigh = Number.NaN, , last = Number.NaN] = told
        expect(told).toEqual(told.toSorted((a, b) => a - b))
        expect(atLow).toBe(0)
        expect(atHigh).toBe(Math.PI)
        // One millisecond of the shortest half cycle, an hour, is 1e-6 rad.
        expect(2 * Math.PI - last).toBeLessThan(1e-6)
        expect(last).toBeLessThan(2 * Math.PI)
        expect(tideAt(curve, nextLow.at).phase_rad ?? 0).toBe(0)
      }),
      runs,
    )
  })

  test("stage, part, phase, range and the waters are told together or not at all", () => {
    fc.assert(
      fc.property(tideStation, instant, (id, at) => {
        const { stage, part, phase_rad, range_m, previous, next } = tideAt(curveOf(id), at)
        const told = [stage, part, phase_rad, range_m, previous, next].filter((value) => value !== null)
        expect([0, 6]).toContain(told.length)
        if (previous === null || next === null || phase_rad === null) return
        expect(previous.at).toBeLessThanOrEqual(at)
        expect(next.at).toBeGreaterThan(at)
        expect(range_m).toBe(Math.abs(next.height_m - previous.height_m))
        const rising = phase_rad < Math.PI
        expect([previous.kind, next.kind]).toEqual(rising ? ["low", "high"] : ["high", "low"])
        expect(part).toMatch(
          stage === "rising"
            ? /of the rise$/
            : stage === "falling"
              ? /of the fall$/
              : new RegExp(`^${stage}$`),
        )
        const fromStand = Math.min(phase_rad % Math.PI, Math.PI - (phase_rad % Math.PI))
        expect(stage === "rising" || stage === "falling").toBe(fromStand >= Math.PI / 12)
      }),
      runs,
    )
  })

  test("between two waters the height keeps within them", () => {
    fc.assert(
      fc.property(tideStation, instant, (id, at) => {
        const curve = curveOf(id)
        const { previous, next, height_m } = tideAt(curve, at)
        if (previous === null || next === null) return
        const slack = rounding_m + (holdsNewYear(previous.at, next.at) ? newYearJump_m : 0)
        expect(height_m).toBeGreaterThanOrEqual(Math.min(previous.height_m, next.height_m) - slack)
        expect(height_m).toBeLessThanOrEqual(Math.max(previous.height_m, next.height_m) + slack)
      }),
      runs,
    )
  })

  test("a rising tide rises and a falling one falls, but for wavers of less than 3 cm", () => {
    let wavers = 0
    fc.assert(
      fc.property(tideStation, instant, (id, at) => {
        const curve = curveOf(id)
        const { stage, rate_m_h, previous, next } = tideAt(curve, at)
        if ((stage !== "rising" && stage !== "falling") || previous === null || next === null) return
        const way = stage === "rising" ? 1 : -1
        if (rate_m_h * way > 0 || holdsNewYear(previous.at, next.at)) return
        wavers++
        expect(againstTheWay(curve, at, way)).toBeLessThan(0.03 * stretchOf(id, previous, next) + rounding_m)
      }),
      { numRuns: 3000, seed: 7 },
    )
    expect(wavers).toBeGreaterThan(0) // the exception is met, so that it is tested
  })
})

/** How far a curve goes against its way about an instant before it turns, metres: looked at every minute. */
function againstTheWay(curve: TideCurve, at: number, way: 1 | -1): number {
  const turn = (step: number): number => {
    let time = at
    while (Math.abs(time - at) < day && curve.rateAt(time) * way <= 0) time += step
    return time
  }
  return Math.abs(curve.heightAt(turn(minute)) - curve.heightAt(turn(-minute)))
}

/** How much a station by offsets draws out its reference's rise or fall; 1 for one with constants of its own. */
function stretchOf(id: string, previous: Water, next: Water): number {
  const line = stationFile().read(id)
  if (line?.kind !== "tide" || !("offsets" in line)) return 1
  const { offsets } = line
  const referenceOf = ({ kind, height_m }: Water) => (height_m - offsets[kind].plus_m) / offsets[kind].ratio
  return Math.abs((next.height_m - previous.height_m) / (referenceOf(next) - referenceOf(previous)))
}

const minutes = fc.integer({ min: -150, max: 150 })
const offset = (lag: number) => ({ minutes: lag, ratio: 1, plus_m: 0 })

describe("offsets and lags", () => {
  test("offsets that change nothing leave the curve as it is", () => {
    fc.assert(
      fc.property(tideStation, instant, (id, at) => {
        const curve = curveOf(id)
        const same = shiftedTide(curve, { high: offset(0), low: offset(0) })
        expect(Math.abs(same.heightAt(at) - curve.heightAt(at))).toBeLessThan(1e-9) // only rounding is left
        expect(Math.abs(same.rateAt(at) - curve.rateAt(at))).toBeLessThan(1e-9)
        expect(tidesNear(same, at, 60)).toEqual(tidesNear(curve, at, 60))
        expect(tideAt(same, at).phase_rad).toBe(tideAt(curve, at).phase_rad)
      }),
      runs,
    )
  })

  test("a spot's lags move each high and each low water by exactly their minutes, and change no height of one", () => {
    fc.assert(
      fc.property(tideStation, instant, minutes, minutes, (id, at, lag_high_min, lag_low_min) => {
        const here = tideHere({ ...spotAt(id), lag_high_min, lag_low_min }, stations)
        if (here === null) throw new Error("the station was chosen")
        const known = tidesNear(here.source.curve, at, 96)
        const lagOf = { high: lag_high_min * minute, low: lag_low_min * minute }
        // Where lags would make two waters of a small tide change places both are left out; else each is there.
        const shortest = Math.min(...known.map(({ at: time }, i) => time - (known[i - 1]?.at ?? -Infinity)))
        const moved = tidesNear(here.curve, at, 60)
        for (const water of moved)
          expect(known).toContainEqual({ ...water, at: water.at - lagOf[water.kind] })
        const there = shortest > Math.abs(lagOf.high - lagOf.low) ? tidesNear(here.source.curve, at, 48) : []
        for (const water of there)
          expect(moved).toContainEqual({ ...water, at: water.at + lagOf[water.kind] })
      }),
      runs,
    )
  })

  test("equal lags are the station's own tide that much later, in everything that is told of it", () => {
    fc.assert(
      fc.property(tideStation, instant, minutes, (id, at, lag) => {
        const here = tideHere({ ...spotAt(id), lag_high_min: lag, lag_low_min: lag }, stations)
        if (here === null) throw new Error("the station was chosen")
        const station = tideAt(here.source.curve, at)
        const spot = tideAt(here.curve, at + lag * minute)
        expect(Math.abs(spot.height_m - station.height_m)).toBeLessThan(1e-9) // only rounding is left
        expect(Math.abs(spot.rate_m_h - station.rate_m_h)).toBeLessThan(1e-9)
        expect([spot.stage, spot.part]).toEqual([station.stage, station.part])
      }),
      runs,
    )
  })

  test("the curve of a station by offsets runs through its own waters, without a jump", () => {
    fc.assert(
      fc.property(oneOf(followingTides), instant, (id, at) => {
        const curve = curveOf(id)
        for (const water of tidesNear(curve, at, 30)) {
          expect(Math.abs(curve.heightAt(water.at) - water.height_m)).toBeLessThan(rounding_m)
          expect(Math.abs(curve.heightAt(water.at - 1) - water.height_m)).toBeLessThan(rounding_m)
        }
      }),
      runs,
    )
  })
})

/** A spot whose tide comes from this station and which has nothing of its own. */
const spotAt = (tide_station: string): SpotWater => ({
  lat: null,
  lon: null,
  tide_station,
  current_station: null,
  lag_high_min: null,
  lag_low_min: null,
  slack_after_high_min: null,
  slack_after_low_min: null,
})

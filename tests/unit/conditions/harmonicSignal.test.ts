// The curve drawn between full hours against the sum of cosines itself, at every station that ships with constants.
import { describe, expect, test } from "vitest"
import { stationFile } from "../../../core/conditions/stations/stationFile.ts"
import { harmonicSignal, type HarmonicSignal } from "../../../core/conditions/tide/harmonicSignal.ts"
import { cosinesOfYear, motionAt, type HarmonicConstant } from "../../../core/conditions/tide/harmonicSum.ts"
import { drawStations } from "./shippedStations.ts"

const minute = 60_000
const hour = 60 * minute
const start = Date.UTC(2025, 2, 3)

/** Constants of a shipped station, in metres or knots. */
function constantsOf(id: string): HarmonicConstant[] {
  const line = stationFile().read(id)
  if (line === null || !("constants" in line)) throw new Error(`${id} has no constants`)
  return line.constants.map(([name, amplitude, phase_deg]) => ({ name, amplitude, phase_deg }))
}

/** The most that a station's curve is off the sum, over 200 instants of some three weeks, and off its rate an hour. */
function worst(id: string): { value: number; rate: number } {
  const constants = constantsOf(id)
  const signal = harmonicSignal(constants, 0)
  const year = cosinesOfYear(constants, 2025)
  let [value, rate] = [0, 0]
  for (let i = 0; i < 200; i++) {
    const at = start + Math.round(i * 2.637 * hour)
    const exact = motionAt(year, at)
    value = Math.max(value, Math.abs(signal.valueAt(at) - exact.value))
    rate = Math.max(rate, Math.abs(signal.rateAt(at) - exact.rate))
  }
  return { value, rate }
}

const median = (values: number[]): number => values.toSorted((a, b) => a - b)[values.length >> 1] ?? NaN
const withConstants = (kind: "tide" | "current"): string[] =>
  stationFile()
    .list.filter((station) => station.kind === kind && station.reference === undefined)
    .map(({ id }) => id)

// Bounds are what the curve's doc comment states, found over all stations: far below the centimetre and the tenth of a knot that
// tables print. A knot is 514.4 mm/s.
test.each([
  { kind: "tide" as const, most: 0.16e-3, rate: 0.6e-3, usual: 0.004e-3, unit: 1 },
  { kind: "current" as const, most: 0.4e-3, rate: 1.5e-3, usual: 0.035e-3, unit: 0.5144 },
])("between full hours every $kind is its sum of cosines to $most", ({ kind, most, rate, usual, unit }) => {
  const found = withConstants(kind).map(worst)
  expect(found.length).toBeGreaterThan(800)
  expect(Math.max(...found.map((one) => one.value)) * unit).toBeLessThan(most)
  expect(Math.max(...found.map((one) => one.rate)) * unit).toBeLessThan(rate)
  expect(median(found.map((one) => one.value)) * unit).toBeLessThan(usual)
})

/** Crossings of a year's first two months by looking every minute. */
function looked(signal: HarmonicSignal, what: "value" | "rate"): { at: number; upwards: boolean }[] {
  const of = what === "value" ? signal.valueAt : signal.rateAt
  const found: { at: number; upwards: boolean }[] = []
  let above = of(start) >= 0
  for (let at = start + minute; at <= start + 60 * 24 * hour; at += minute) {
    const now = of(at) >= 0
    if (now !== above) found.push({ at, upwards: now })
    above = now
  }
  return found
}

describe.each(["value", "rate"] as const)("crossings of zero by the %s", (what) => {
  const drawn = [
    ...drawStations({ kind: "tide", by: "constants" }, 12, 5),
    ...drawStations({ kind: "current", by: "constants" }, 12, 6),
  ]
  test("are those that looking every minute finds, and within that minute", () => {
    for (const { id } of drawn) {
      const signal = harmonicSignal(constantsOf(id), 0.05)
      const sought = looked(signal, what)
      const found = signal.crossings(what, start, start + 60 * 24 * hour)
      expect(found.map(({ upwards }) => upwards)).toEqual(sought.map(({ upwards }) => upwards))
      for (const [i, { at, value }] of found.entries()) {
        const seen = sought[i]?.at ?? NaN
        expect(at).toBeGreaterThanOrEqual(seen - minute)
        expect(at).toBeLessThanOrEqual(seen)
        expect(value).toBeCloseTo(signal.valueAt(at), 6)
      }
    }
  })
})

test("two crossings in one hour are both found", () => {
  // A fast wave just over zero (its node factor is 0.86 at least): at each of its lows the sum dips below for less than an hour.
  const signal = harmonicSignal([{ name: "M8", amplitude: 1, phase_deg: 0 }], 0.8)
  const sought = looked(signal, "value")
  const short = sought.filter(({ at }, i) => at - (sought[i - 1]?.at ?? -Infinity) < hour)
  expect(short.length).toBeGreaterThan(100)
  const found = signal.crossings("value", start, start + 60 * 24 * hour)
  expect(found.map(({ upwards }) => upwards)).toEqual(sought.map(({ upwards }) => upwards))
})

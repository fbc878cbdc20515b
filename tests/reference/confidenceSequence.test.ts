// Case in cases/stats: empirical-Bernstein confidence sequence. Source and tolerance are in the file; its simulated part is
// checked in tests/simulation/evidence.test.ts.
import { expect, test } from "vitest"
import { z } from "zod"
import { confidenceSequence, differenceSequence } from "../../core/stats/evidence/confidenceSequence.ts"
import { difference, loadCase, number, numbers } from "./case.ts"

const { inputs, expected, tolerance } = loadCase(
  "stats/17-eb-confidence-sequence.json",
  z.object({ x: numbers, alpha: number, lambda_cap: number }),
  z.object({
    lambda: numbers,
    centre: numbers,
    radius: numbers,
    low: numbers,
    high: numbers,
    running_low: numbers,
    running_high: numbers,
  }),
)

test("every interval of the sequence", () => {
  const got = confidenceSequence(inputs.x)
  const columns = {
    weight: expected.lambda,
    centre: expected.centre,
    radius: expected.radius,
    low: expected.low,
    high: expected.high,
    runningLow: expected.running_low,
    runningHigh: expected.running_high,
  }
  for (const name of ["weight", "centre", "radius", "low", "high", "runningLow", "runningHigh"] as const) {
    expect(columns[name]).toHaveLength(inputs.x.length)
    columns[name].forEach((value, i) => {
      expect(difference(got[name][i] ?? NaN, value, tolerance, `${name} ${i}`)).toBeNull()
    })
  }
})

test("an unfinished block can only widen the interval, and a value outside -1 to 1 is refused", () => {
  const finished = Array.from({ length: 200 }, (_, j) => ({ a: 1 + (j % 3), b: j % 2 }))
  const whole = differenceSequence(finished)
  const broken = differenceSequence(finished.map((pair, j) => (j % 10 === 4 ? { ...pair, a: null } : pair)))
  expect(broken.low[199]).toBeLessThan(whole.low[199] ?? NaN)
  expect(broken.high[199]).toBeGreaterThan(whole.high[199] ?? NaN)
  expect(whole.low[199]).toBeGreaterThan(0)
  expect(() => confidenceSequence(Float64Array.of(0, 1.1))).toThrow("1.1")
})

// Case in cases/stats, only its part "from_interval": an interval in hand. Source and tolerance are in the file.
import { expect, test } from "vitest"
import { z } from "zod"
import { exposureFactorNeeded } from "../../core/stats/hoursNeeded.ts"
import { difference, loadCase, number } from "./case.ts"

const { inputs, expected, tolerance } = loadCase(
  "stats/17-hours-needed-policy.json",
  z.object({
    from_interval: z.array(
      z.object({ low: number, high: number, df: number, hours: number, trips: number, ratio: number }),
    ),
  }),
  z.object({ from_interval: z.array(z.object({ factor_more: number, rod_hours: number, trips: number })) }),
)

test.each(inputs.from_interval.map((given, i) => ({ given, wanted: expected.from_interval[i] })))(
  "exposure still needed from $given.low to $given.high",
  ({ given, wanted }) => {
    const factor = exposureFactorNeeded(given, given.ratio)
    expect(difference(factor, wanted?.factor_more ?? NaN, tolerance, "factor")).toBeNull()
    expect(
      difference((factor ?? NaN) * given.hours, wanted?.rod_hours ?? NaN, tolerance, "exposure"),
    ).toBeNull()
    expect(Math.ceil((factor ?? NaN) * given.trips)).toBe(wanted?.trips)
  },
)

test("an unbounded or missing end gives no number; the wished ratio may stand either way round", () => {
  expect(exposureFactorNeeded({ low: 0, high: 2, df: 8 }, 1.5)).toBeNull()
  expect(exposureFactorNeeded({ low: 0.5, high: Infinity, df: 8 }, 1.5)).toBeNull()
  expect(exposureFactorNeeded({ low: null, high: null, df: null }, 1.5)).toBeNull()
  const interval = { low: 0.5, high: 3, df: 8 }
  expect(
    difference(
      exposureFactorNeeded(interval, 1 / 1.5),
      exposureFactorNeeded(interval, 1.5),
      { rel: 1e-12, abs: 0 },
      "factor",
    ),
  ).toBeNull()
  expect(() => exposureFactorNeeded(interval, 1)).toThrow("not 1")
})

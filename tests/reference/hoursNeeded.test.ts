// Case in cases/stats: clusters to plan for, and exposure still needed given an interval in hand. Source and tolerance are in
// the file; its simulated variances are drawn anew in tests/simulation/planning.test.ts.
import { expect, test } from "vitest"
import { z } from "zod"
import { clustersNeeded } from "../../core/stats/planning/clustersNeeded.ts"
import { exposureFactorNeeded } from "../../core/stats/planning/hoursNeeded.ts"
import { difference, loadCase, number } from "./case.ts"

const { inputs, expected, tolerance } = loadCase(
  "stats/17-hours-needed-policy.json",
  z.object({
    plans: z.array(
      z.object({
        r: number,
        ratio: number,
        h: number,
        k: number,
        theta: number,
        sd: number,
        basis: z.string(),
      }),
    ),
    from_interval: z.array(
      z.object({ low: number, high: number, df: number, hours: number, trips: number, ratio: number }),
    ),
  }),
  z.object({
    plans: z.array(
      z.object({ variance_one_trip: number, trips: number, trips_rounded: number, rod_hours: number }),
    ),
    from_interval: z.array(z.object({ factor_more: number, rod_hours: number, trips: number })),
  }),
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

const bases = z
  .enum(["raw", "adjusted_between", "within"])
  .transform((name) => (name === "adjusted_between" ? ("between" as const) : name))

test.each(inputs.plans.map((given, i) => ({ given, wanted: expected.plans[i] })))(
  "clusters a planned comparison needs: $given.basis",
  ({ given, wanted }) => {
    const { r: rate, ratio, h: exposure, k: units, theta, sd } = given
    const got = clustersNeeded({ rate, ratio, exposure, units, theta, sd, basis: bases.parse(given.basis) })
    expect(difference(got.variance, wanted?.variance_one_trip ?? NaN, tolerance, "variance")).toBeNull()
    expect(difference(got.clusters, wanted?.trips ?? NaN, tolerance, "clusters")).toBeNull()
    expect(Math.ceil(got.clusters)).toBe(wanted?.trips_rounded)
    expect(difference(got.exposure, wanted?.rod_hours ?? NaN, tolerance, "exposure")).toBeNull()
  },
)

test("a plan that cannot be is refused", () => {
  const plan = { rate: 1, ratio: 1.5, exposure: 2, units: 3, theta: 1, sd: 0.5, basis: "raw" } as const
  expect(() => clustersNeeded({ ...plan, rate: 0 })).toThrow("rate above 0; it was given 0")
  expect(() => clustersNeeded({ ...plan, theta: NaN })).toThrow("NaN")
  expect(() => clustersNeeded({ ...plan, sd: -1 })).toThrow("-1")
  expect(() => clustersNeeded({ ...plan, ratio: 1 })).toThrow("not 1")
})

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

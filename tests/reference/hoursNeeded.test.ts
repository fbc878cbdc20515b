// Case in cases/stats: clusters to plan for, and exposure still needed given an interval in hand. Source and tolerance are in
// the file; its simulated variances are drawn anew in tests/simulation/planning.test.ts.
import { expect, test } from "vitest"
import { z } from "zod"
import { clustersNeeded } from "../../core/stats/planning/clustersNeeded.ts"
import { exposureFactorNeeded } from "../../core/stats/planning/hoursNeeded.ts"
import { pairsNeeded } from "../../core/stats/planning/pairsNeeded.ts"
import { difference, loadCase, number, numbers } from "./case.ts"

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
    trial: z.array(z.object({ ma: number, mb: number, theta: number, sd: number })),
    from_interval: z.array(
      z.object({ low: number, high: number, df: number, hours: number, trips: number, ratio: number }),
    ),
  }),
  z.object({
    plans: z.array(
      z.object({ variance_one_trip: number, trips: number, trips_rounded: number, rod_hours: number }),
    ),
    trial: z.array(z.object({ mean_d: number, growth: numbers, pairs_median: number, pairs_80: number })),
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

test.each(inputs.trial.map((given, i) => ({ given, wanted: expected.trial[i] })))(
  "pairs a trial needs: $given.ma against $given.mb",
  ({ given, wanted }) => {
    const got = pairsNeeded({ meanA: given.ma, meanB: given.mb, theta: given.theta, sd: given.sd })
    expect(difference(got.meanDifference, wanted?.mean_d ?? NaN, tolerance, "mean difference")).toBeNull()
    expect(got.growth).toHaveLength(wanted?.growth.length ?? NaN)
    got.growth.forEach((value, k) => {
      expect(difference(value, wanted?.growth[k] ?? NaN, tolerance, `growth of bet ${k}`)).toBeNull()
    })
    expect(difference(got.median, wanted?.pairs_median ?? NaN, tolerance, "median")).toBeNull()
    expect(difference(got.fourInFive, wanted?.pairs_80 ?? NaN, tolerance, "four in five")).toBeNull()
  },
)

test("a plan that cannot be is refused", () => {
  const plan = { rate: 1, ratio: 1.5, exposure: 2, units: 3, theta: 1, sd: 0.5, basis: "raw" } as const
  expect(() => clustersNeeded({ ...plan, rate: 0 })).toThrow("rate above 0; it was given 0")
  expect(() => clustersNeeded({ ...plan, theta: NaN })).toThrow("NaN")
  expect(() => clustersNeeded({ ...plan, sd: -1 })).toThrow("-1")
  expect(() => clustersNeeded({ ...plan, ratio: 1 })).toThrow("not 1")
  const pairs = { meanA: 1, meanB: 1, theta: 1, sd: 0 }
  expect(() => pairsNeeded({ ...pairs, meanB: 0 })).toThrow("mean above 0; it was given 0")
  expect(() => pairsNeeded({ ...pairs, theta: NaN })).toThrow("NaN")
  expect(pairsNeeded({ ...pairs, theta: Infinity }).median).toBe(Infinity)
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

// NIST certified values (cases/stats). With one value a cluster the jackknife variance of the mean is exactly sd^2/n, so
// the certified mean and sd give the interval; t quantiles are checked in special.test.ts.
import { expect, test } from "vitest"
import { z } from "zod"
import { clusterMean, meanRatio } from "../../core/stats/clusterMean.ts"
import { tQuantile } from "../../core/stats/distributions/studentT.ts"
import { type Tolerance, difference, loadCase, number, numbers } from "./case.ts"

const certified = z.object({ mean: number, sd: number })

function meanDifferences(
  values: Float64Array,
  wanted: z.infer<typeof certified>,
  tolerance: Tolerance,
): string[] {
  const got = clusterMean(values, new Float64Array(values.length).fill(1))
  const halfWidth = ((got?.high ?? NaN) - (got?.low ?? NaN)) / 2
  const n = values.length
  const sd = (halfWidth * Math.sqrt(n)) / tQuantile(0.975, n - 1)
  return [
    difference(got?.estimate ?? null, wanted.mean, tolerance, "mean") ?? [],
    difference(sd, wanted.sd, tolerance, "sd") ?? [],
  ].flat()
}

test("mean and spread of Michelson's speeds of light", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/14-michelson.json",
    z.object({ values: numbers }),
    certified,
  )
  // The half width is a difference of numbers near 300, of which 1e-16 is lost: 1e-12 of the sd would ask for 1e-15.
  expect(meanDifferences(inputs.values, expected, { ...tolerance, rel: 1e-11 })).toEqual([])
})

test.each(["numacc3", "numacc4"] as const)("mean and spread with a huge common part: %s", (name) => {
  const schema = z.object({ numacc3: certified, numacc4: certified })
  const { inputs, expected, tolerance } = loadCase(
    "stats/14-numacc.json",
    z.record(z.string(), z.string()),
    schema,
  )
  const base = name === "numacc3" ? 1_000_000 : 10_000_000
  expect(inputs[name]).toBe(`${base}.2, then 500 pairs ${base}.1, ${base}.3`)
  const values = Float64Array.from({ length: 1001 }, (_, i) =>
    i === 0 ? base + 0.2 : i % 2 === 1 ? base + 0.1 : base + 0.3,
  )
  // The values themselves hold 0.1 only to 2e-9 (R prints 0.10000000056 for the second); the interval's ends lose as much again
  // over its half width of 0.006: 1e-9/0.006 is 2e-7.
  expect(meanDifferences(values, expected[name], { ...tolerance, rel: 4e-7 })).toEqual([])
})

test("a mean over clusters of several values is the ratio of sums, its jackknife that of plain deletion", () => {
  const sums = Float64Array.of(900, 0, 410, 1300)
  const counts = Float64Array.of(2, 0, 1, 3)
  const means = [1710 / 4, 2200 / 5, 1310 / 3] // by hand: each cluster with values left out in turn
  const mean = 2610 / 6
  const variance = (2 / 3) * means.reduce((sum, m) => sum + (m - mean) ** 2, 0)
  const got = clusterMean(sums, counts)
  expect(got?.clusters).toBe(3)
  expect(got?.df).toBe(2)
  expect(
    difference(
      got?.high ?? null,
      mean + tQuantile(0.975, 2) * Math.sqrt(variance),
      { rel: 1e-12, abs: 0 },
      "high",
    ),
  ).toBeNull()
})

test("clusters that show no spread bound nothing", () => {
  expect(clusterMean(Float64Array.of(400), Float64Array.of(1))).toMatchObject({
    estimate: 400,
    low: null,
    high: null,
  })
  expect(clusterMean(Float64Array.of(400, 800), Float64Array.of(1, 2))).toMatchObject({
    estimate: 400,
    low: null,
  })
  expect(clusterMean(Float64Array.of(0), Float64Array.of(0))).toBeNull()
})

test("a ratio of means: jackknife of the log ratio, nothing where a level is in one cluster only", () => {
  const ya = Float64Array.of(900, 410, 1300)
  const ha = Float64Array.of(2, 1, 3)
  const got = meanRatio({ ya, ha, yb: Float64Array.of(300, 640, 0), hb: Float64Array.of(1, 2, 0) })
  const without = [1710 / 4 / 320, 2200 / 5 / 300, 1310 / 3 / (940 / 3)].map(Math.log) // by hand
  const middle = without.reduce((a, b) => a + b) / 3
  const se = Math.sqrt((2 / 3) * without.reduce((sum, l) => sum + (l - middle) ** 2, 0))
  const ratio = 435 / (940 / 3)
  expect(difference(got.ratio, ratio, { rel: 1e-12, abs: 0 }, "ratio")).toBeNull()
  expect(
    difference(got.low, ratio * Math.exp(-tQuantile(0.975, 2) * se), { rel: 1e-12, abs: 0 }, "low"),
  ).toBeNull()
  const alone = meanRatio({ ya, ha, yb: Float64Array.of(300, 0, 0), hb: Float64Array.of(1, 0, 0) })
  expect(difference(alone.ratio, 435 / 300, { rel: 1e-12, abs: 0 }, "ratio")).toBeNull()
  expect(alone).toMatchObject({ low: null, high: null, p: null })
  const absent = meanRatio({ ya, ha, yb: new Float64Array(3), hb: new Float64Array(3) })
  expect(absent).toMatchObject({ ratio: null, low: null, p: null })
})

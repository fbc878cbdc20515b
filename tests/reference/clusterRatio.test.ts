// Case in cases/stats: source and tolerance are in the file.
import { expect, test } from "vitest"
import { z } from "zod"
import { clusterRatio } from "../../core/stats/clusterRatio.ts"
import { difference, loadCase, number, numbers } from "./case.ts"

const ratioCase = loadCase(
  "stats/17-raw-ratio.json",
  z.object({
    logbook_deff: number,
    cases: z.record(z.string(), z.object({ ya: numbers, ha: numbers, yb: numbers, hb: numbers })),
  }),
  z.object({
    cases: z.record(
      z.string(),
      z.object({ trips: number, df: number, ratio: number, method: z.string(), interval: numbers }),
    ),
  }),
)
const pooled = { deff: ratioCase.inputs.logbook_deff, clusters: 40 }

test.each(Object.keys(ratioCase.inputs.cases))("the ratio of two rates over clusters: %s", (name) => {
  const { inputs, expected, tolerance } = ratioCase
  const given = inputs.cases[name]
  const wanted = expected.cases[name]
  if (given === undefined || wanted === undefined) throw new Error(`The case ${name} lacks a half.`)
  const got = clusterRatio(given, pooled)
  expect(got.clusters).toBe(wanted.trips)
  expect(got.df).toBe(wanted.df)
  expect(got.method).toBe(wanted.method)
  expect(difference(got.ratio, wanted.ratio, tolerance, "ratio")).toBeNull()
  expect(difference(got.low, wanted.interval[0] ?? NaN, tolerance, "low")).toBeNull()
  expect(difference(got.high, wanted.interval[1] ?? NaN, tolerance, "high")).toBeNull()
})

// What stands below follows from the definitions; no outside value is needed.

/** The same data with the hours of b scaled so that the ratio 1 falls on the given end of the interval. */
function withEndAtOne(name: string, end: "low" | "high") {
  const given = ratioCase.inputs.cases[name]
  const at = given && clusterRatio(given, pooled)[end]
  if (given === undefined || at === null || at === undefined)
    throw new Error(`The case ${name} has no such end.`)
  return { ...given, hb: given.hb.map((h) => h / at) }
}

test.each([
  ["usual", "low"],
  ["usual", "high"],
  ["none_in_b", "low"],
  ["none_in_a", "high"],
  ["all_b_fish_in_one_trip", "low"],
  ["b_on_one_trip_only", "high"],
] as const)("p is .05 where an end of the interval is 1: %s, %s", (name, end) => {
  // Scaling exposure of b leaves the log spread and the counts alone. 1e-9: the inverse beta is good to 1e-12.
  const got = clusterRatio(withEndAtOne(name, end), pooled)
  expect(difference(got[end], 1, { rel: 1e-9, abs: 0 }, end)).toBeNull()
  expect(difference(got.p, 0.05, { rel: 1e-9, abs: 0 }, "p")).toBeNull()
})

test("swapping the levels inverts the ratio and its interval", () => {
  for (const { ya, ha, yb, hb } of Object.values(ratioCase.inputs.cases)) {
    const ab = clusterRatio({ ya, ha, yb, hb }, pooled)
    const ba = clusterRatio({ ya: yb, ha: hb, yb: ya, hb: ha }, pooled)
    const rounding = { rel: 1e-11, abs: 0 }
    expect(difference(1 / (ab.ratio ?? NaN), ba.ratio, rounding, "ratio")).toBeNull()
    expect(difference(1 / (ab.low ?? NaN), ba.high, rounding, "high")).toBeNull()
    expect(difference(1 / (ab.high ?? NaN), ba.low, rounding, "low")).toBeNull()
    expect(difference(ab.p, ba.p, rounding, "p")).toBeNull()
  }
})

test("one cluster keeps the ratio and nothing else", () => {
  const one = {
    ya: Float64Array.of(2),
    ha: Float64Array.of(1),
    yb: Float64Array.of(1),
    hb: Float64Array.of(1),
  }
  expect(clusterRatio(one, pooled)).toEqual({
    ratio: 2,
    low: null,
    high: null,
    p: null,
    clusters: 1,
    df: null,
    method: "none",
  })
})

test("no event in either level, or no exposure in one, gives no ratio", () => {
  const zero = Float64Array.of(0, 0)
  const some = Float64Array.of(1, 2)
  expect(clusterRatio({ ya: zero, ha: some, yb: zero, hb: some }, pooled)).toMatchObject({
    ratio: null,
    p: null,
  })
  expect(clusterRatio({ ya: some, ha: some, yb: zero, hb: zero }, pooled)).toMatchObject({
    ratio: null,
    low: null,
  })
})

test("clusters that agree by accident do not give an interval of no width", () => {
  const ones = Float64Array.of(1, 1)
  const got = clusterRatio({ ya: ones, ha: ones, yb: ones, hb: ones }, pooled)
  expect(got.method).toBe("effective-count binomial")
  expect(got.ratio).toBe(1)
  expect(got.low).toBeLessThan(0.2)
  expect(got.high).toBeGreaterThan(5)
  expect(got.p).toBe(1)
})

// Cases in cases/stats: sources and tolerances are in the files.
import { expect, test } from "vitest"
import { z } from "zod"
import { clusterShare, shareDesignEffect } from "../../core/stats/clusterShare.ts"
import { tStretch } from "../../core/stats/confidence.ts"
import { difference, loadCase, number, numbers } from "./case.ts"

const shareCase = loadCase(
  "stats/17-share-effective.json",
  z.object({
    logbook_deff: number,
    logbook_trips: number,
    cases: z.record(z.string(), z.object({ x: numbers, n: numbers })),
  }),
  z.object({
    cases: z.record(
      z.string(),
      z.object({
        trips: number,
        estimate: number,
        deff: number,
        deff_from: z.enum(["own", "logbook"]),
        df: number,
        interval: numbers,
      }),
    ),
  }),
)

test.each(Object.keys(shareCase.inputs.cases))("the interval of a share over clusters: %s", (name) => {
  const { inputs, expected, tolerance } = shareCase
  const given = inputs.cases[name]
  const wanted = expected.cases[name]
  if (given === undefined || wanted === undefined) throw new Error(`The case ${name} lacks a half.`)
  const pooled = { deff: inputs.logbook_deff, clusters: inputs.logbook_trips }
  const got = clusterShare(given.x, given.n, pooled)
  if (got === null) throw new Error("There are trials, so there must be a share.")
  expect(got.clusters).toBe(wanted.trips)
  expect(got.deffFrom).toBe(wanted.deff_from === "logbook" ? "pooled" : "own")
  expect(got.df).toBe(wanted.df)
  expect(difference(got.estimate, wanted.estimate, tolerance, "estimate")).toBeNull()
  expect(difference(got.deff, wanted.deff, tolerance, "deff")).toBeNull()
  expect(difference(got.low, wanted.interval[0] ?? NaN, tolerance, "low")).toBeNull()
  expect(difference(got.high, wanted.interval[1] ?? NaN, tolerance, "high")).toBeNull()
  const own = shareDesignEffect(given.x, given.n)
  expect(
    difference(own.deff, wanted.deff_from === "own" ? wanted.deff : 1, tolerance, "pooled design effect"),
  ).toBeNull()
})

// All trials stand in one cluster, so design effect and degrees of freedom are those given; a design effect that cancels the
// t stretch leaves as many effective trials as there are, and the interval is Clopper and Pearson's.
test("at the plain number of trials the interval is Clopper and Pearson's", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/02-proportion-intervals.json",
    z.object({ cases: z.array(z.object({ x: number, n: number, level: number })) }),
    z.object({ cases: z.array(z.object({ clopper_pearson: numbers })) }),
  )
  inputs.cases.forEach(({ x, n, level }, i) => {
    expect(level).toBe(0.95)
    const got = clusterShare(Float64Array.of(x), Float64Array.of(n), {
      deff: 1 / tStretch(40) ** 2,
      clusters: 41,
    })
    expect(
      difference(
        got?.low ?? null,
        expected.cases[i]?.clopper_pearson[0] ?? NaN,
        tolerance,
        `low of ${x} in ${n}`,
      ),
    ).toBeNull()
    expect(
      difference(
        got?.high ?? null,
        expected.cases[i]?.clopper_pearson[1] ?? NaN,
        tolerance,
        `high of ${x} in ${n}`,
      ),
    ).toBeNull()
  })
})

test("no trial gives no share, one cluster no bound, and more events than trials are refused", () => {
  const pooled = { deff: 1, clusters: 1 }
  expect(clusterShare(Float64Array.of(0), Float64Array.of(0), pooled)).toBeNull()
  expect(clusterShare(Float64Array.of(1), Float64Array.of(3), pooled)).toMatchObject({
    low: 0,
    high: 1,
    df: 0,
  })
  expect(() => clusterShare(Float64Array.of(4), Float64Array.of(3), pooled)).toThrow("4 events in 3 trials")
})

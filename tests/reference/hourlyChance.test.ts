// cases/hourly-chance: invented data, expected values from SciPy (make.py beside it), every cluster refitted from nothing.
import { expect, test } from "vitest"
import { z } from "zod"
import {
  type HourlyFit,
  fitHourlyChance,
  hourlyChance,
  hourlyChanceRatio,
  hourlyDesignEffect,
} from "../../core/stats/hourlyChance.ts"
import { difference, loadCase, number, numbers } from "./case.ts"

const units = z.object({ happened: numbers, exposure: numbers, cluster: numbers })
const result = z.object({ rate: number, low: number, high: number, clusters: number, method: z.string() })
const { inputs, expected, tolerance } = loadCase(
  "hourly-chance/hourly-chance.json",
  z.object({
    pooled: z.object({ deff: number, clusters: number }),
    cases: z.record(z.string(), units),
    ratio: z.object({ a: units, b: units }),
  }),
  z.object({
    cases: z.record(z.string(), result.extend({ without: numbers.optional() })),
    ratio: z.object({ ratio: number, low: number, high: number, p: number }),
  }),
)

function fit({ happened, exposure, cluster }: z.infer<typeof units>): HourlyFit {
  const numbered = Int32Array.from(cluster)
  const found = fitHourlyChance(Uint8Array.from(happened), exposure, numbered, Math.max(...numbered) + 1)
  if (found === null) throw new Error("There are units, so there must be a fit.")
  return found
}

test.each(Object.keys(inputs.cases))("rate of the chance of any event: %s", (name) => {
  const given = inputs.cases[name]
  const wanted = expected.cases[name]
  if (given === undefined || wanted === undefined) throw new Error(`The case ${name} lacks a half.`)
  const fitted = fit(given)
  const got = hourlyChance(fitted, inputs.pooled)
  expect(got.clusters).toBe(wanted.clusters)
  expect(got.method).toBe(wanted.method)
  expect(got.units).toBe(given.exposure.length)
  expect(difference(got.rate, wanted.rate, tolerance, "rate")).toBeNull()
  // Clusters that move log lambda by less than .01 are taken out by one Newton step, with an error of the order of 1e-4.
  wanted.without?.forEach((rate, g) => {
    expect(
      difference(
        Math.exp(fitted.without[g] ?? NaN),
        rate,
        { rel: 1e-4, abs: 0 },
        `rate without cluster ${g}`,
      ),
    ).toBeNull()
  })
  const ends = wanted.method === "jackknife" ? { rel: 1e-4, abs: 0 } : tolerance
  expect(difference(got.low, wanted.low, ends, "low")).toBeNull()
  expect(difference(got.high, wanted.high, ends, "high")).toBeNull()
})

test("ratio of two such rates", () => {
  const got = hourlyChanceRatio(fit(inputs.ratio.a), fit(inputs.ratio.b))
  const near = { rel: 1e-4, abs: 0 } // as above
  expect(difference(got.ratio, expected.ratio.ratio, tolerance, "ratio")).toBeNull()
  expect(difference(got.low, expected.ratio.low, near, "low")).toBeNull()
  expect(difference(got.high, expected.ratio.high, near, "high")).toBeNull()
  expect(difference(got.p, expected.ratio.p, near, "p")).toBeNull()
})

// What stands below follows from the definitions; no outside value is needed.
test("with equal exposures the rate has a closed form, and with one unit a cluster no design effect", () => {
  const n = 50
  const happened = Float64Array.from({ length: n }, (_, i) => (i < 20 ? 1 : 0))
  const all = fit({ happened, exposure: new Float64Array(n).fill(0.8), cluster: happened.map((_, i) => i) })
  expect(difference(Math.exp(all.theta), -Math.log(30 / 50) / 0.8, { rel: 1e-12, abs: 0 }, "rate")).toBeNull()
  const { deff, clusters } = hourlyDesignEffect(all)
  // Jackknife over information here is 1 up to terms of the order of 1/n.
  expect(difference(deff, 1, { rel: 0.05, abs: 0 }, "deff")).toBeNull()
  expect(clusters).toBe(n)
})

test("at the exact bounds one unit with an event, and one without, are each missed with probability .025", () => {
  const one = (happened: number): HourlyFit =>
    fit({ happened: Float64Array.of(happened), exposure: Float64Array.of(2), cluster: Float64Array.of(0) })
  const pooled = { deff: 1, clusters: 10 }
  expect(
    difference(
      1 - Math.exp(-2 * hourlyChance(one(1), pooled).low),
      0.025,
      { rel: 1e-10, abs: 0 },
      "chance at low",
    ),
  ).toBeNull()
  expect(
    difference(
      Math.exp(-2 * hourlyChance(one(0), pooled).high),
      0.025,
      { rel: 1e-10, abs: 0 },
      "chance at high",
    ),
  ).toBeNull()
})

test("a ratio with a level of no events, or two, is undefined at its ends", () => {
  const a = fit(inputs.ratio.a)
  const none = fit({ ...inputs.ratio.b, happened: inputs.ratio.b.happened.map(() => 0) })
  expect(hourlyChanceRatio(none, a)).toMatchObject({ ratio: 0, low: null, high: null, p: null })
  expect(hourlyChanceRatio(a, none)).toMatchObject({ ratio: Infinity, low: null, high: null, p: null })
  expect(hourlyChanceRatio(none, none)).toMatchObject({ ratio: null })
})

test("no units give no fit; a wrong unit is refused with its value", () => {
  const none = new Float64Array()
  expect(fitHourlyChance(new Uint8Array(), none, new Int32Array(), 0)).toBeNull()
  expect(() => fitHourlyChance(Uint8Array.of(1), Float64Array.of(0), Int32Array.of(0), 1)).toThrow("given 0")
  expect(() => fitHourlyChance(Uint8Array.of(1), Float64Array.of(1), Int32Array.of(3), 2)).toThrow("given 3")
  expect(() => fitHourlyChance(Uint8Array.of(1), Float64Array.of(1, 2), Int32Array.of(0), 2)).toThrow(
    "1, 2 and 1",
  )
})

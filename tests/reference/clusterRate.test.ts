// Cases in cases/stats and cases/conditions: sources and tolerances are in the files. Of 11-creel.json, effort and trips met
// while still fishing are in creelEffort.test.ts. Left out: means of ratios, which the product does not give (a logbook's trips
// end, so it takes the ratio of means); the linear standard error and the bias-corrected ratio beside the jackknife used here;
// expansion to the days of a month.
import { expect, test } from "vitest"
import { z } from "zod"
import { clusterRate, designEffect } from "../../core/stats/clusterRate.ts"
import { deleteOneCluster, jackknifeVariance } from "../../core/stats/jackknife.ts"
import { mostInfluential } from "../../core/stats/leaveOneOut.ts"
import { poissonInterval } from "../../core/stats/poissonInterval.ts"
import { ratioOfSums } from "../../core/stats/ratioOfSums.ts"
import { caseSchema, difference, loadCase, number, numbers, readCaseFile } from "./case.ts"

test("the exact Poisson interval is Garwood's", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/02-poisson-rate.json",
    z.object({ cases: z.array(z.object({ x: number, exposure: number, level: number })) }),
    z.object({ cases: z.array(z.object({ exact: numbers })) }),
  )
  expect(inputs.cases.length).toBeGreaterThan(5)
  for (const [i, { x, exposure, level }] of inputs.cases.entries()) {
    const exact = expected.cases[i]?.exact
    const { low, high } = poissonInterval(x, exposure, (1 - level) / 2)
    expect(difference(low, exact?.[0] ?? NaN, tolerance, `low of ${x} in ${exposure}`)).toBeNull()
    expect(difference(high, exact?.[1] ?? NaN, tolerance, `high of ${x} in ${exposure}`)).toBeNull()
  }
})

const totals = z.object({ y: numbers, h: numbers })
const rateCase = loadCase(
  "stats/17-raw-rate-gamma.json",
  z.object({
    logbook_deff: number,
    logbook_trips: number,
    cases: z.record(z.string(), totals),
    logbook: totals,
  }),
  z.object({
    cases: z.record(
      z.string(),
      z.object({
        trips: number,
        estimate: number,
        v_cluster: number.nullable(),
        deff: number,
        deff_from: z.enum(["own", "logbook"]),
        df: number.nullable(),
        interval: numbers,
      }),
    ),
    logbook_deff: number,
  }),
)

test.each(Object.keys(rateCase.inputs.cases))("the interval of a rate over clusters: %s", (name) => {
  const { inputs, expected, tolerance } = rateCase
  const given = inputs.cases[name]
  const wanted = expected.cases[name]
  if (given === undefined || wanted === undefined) throw new Error(`The case ${name} lacks a half.`)
  const pooled = { deff: inputs.logbook_deff, clusters: inputs.logbook_trips }
  const got = clusterRate(given.y, given.h, pooled)
  if (got === null) throw new Error("There is exposure, so there must be a rate.")
  expect(got.clusters).toBe(wanted.trips)
  expect(got.deffFrom).toBe(wanted.deff_from === "logbook" ? "pooled" : "own")
  expect(got.df).toBe(wanted.df)
  expect(difference(got.estimate, wanted.estimate, tolerance, "estimate")).toBeNull()
  expect(difference(got.deff, wanted.deff, tolerance, "deff")).toBeNull()
  expect(difference(got.low, wanted.interval[0] ?? NaN, tolerance, "low")).toBeNull()
  expect(difference(got.high, wanted.interval[1] ?? NaN, tolerance, "high")).toBeNull()
  const variance = wanted.v_cluster === null ? null : (ratioOfSums(given.y, given.h)?.variance ?? null)
  expect(difference(variance, wanted.v_cluster, tolerance, "cluster variance")).toBeNull()
})

test("the pooled design effect", () => {
  const { inputs, expected, tolerance } = rateCase
  const { deff, clusters } = designEffect(inputs.logbook.y, inputs.logbook.h)
  expect(difference(deff, expected.logbook_deff, tolerance, "deff")).toBeNull()
  expect(clusters).toBe(inputs.logbook.h.length)
})

test("no event at all keeps the exact Poisson upper end", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/02-ratio-of-sums-zero.json",
    z.object({ count: numbers, effort: numbers }),
    z.object({ rate: number, poisson_exact_upper_95: number }),
  )
  const pooled = designEffect(inputs.count, inputs.effort)
  expect(pooled).toEqual({ deff: 1, clusters: 6 })
  const got = clusterRate(inputs.count, inputs.effort, pooled)
  expect(got?.estimate).toBe(expected.rate)
  expect(got?.low).toBe(0)
  expect(difference(got?.high ?? null, expected.poisson_exact_upper_95, tolerance, "high")).toBeNull()
  expect(mostInfluential(inputs.count, inputs.effort)).toBeNull()
})

const jackknifed = z.object({
  rate: number,
  jackknife_values: numbers,
  jackknife_se: number,
  most_influential: number,
})

const city = loadCase(
  "stats/02-ratio-of-sums-city.json",
  z.object({ count: numbers, effort: numbers }),
  jackknifed,
)
const lake = loadCase("stats/02-ratio-of-sums-lake.json", z.object({ data: z.string() }), jackknifed)
const seasons = readCaseFile(`stats/${lake.inputs.data}`)
  .trim()
  .split("\n")
  .slice(1)
  .map((line) => line.split(",").map(Number))
const seasonColumn = (index: number): Float64Array => Float64Array.from(seasons, (row) => row[index] ?? NaN)

test.each([
  {
    name: "city",
    y: city.inputs.count,
    h: city.inputs.effort,
    expected: city.expected,
    tolerance: city.tolerance,
  },
  {
    name: "lake",
    y: seasonColumn(1),
    h: seasonColumn(4),
    expected: lake.expected,
    tolerance: lake.tolerance,
  },
])(
  "ratio of sums, its jackknife and its most influential cluster: $name",
  ({ y, h, expected, tolerance }) => {
    const sums = ratioOfSums(y, h)
    expect(difference(sums?.ratio ?? null, expected.rate, tolerance, "rate")).toBeNull()
    expect(
      difference(
        Math.sqrt(jackknifeVariance(expected.jackknife_values)),
        expected.jackknife_se,
        tolerance,
        "jackknife se",
      ),
    ).toBeNull()
    const aboutRatio = jackknifeVariance(expected.jackknife_values, expected.rate)
    expect(
      difference(sums?.variance ?? null, aboutRatio, tolerance, "jackknife variance about the ratio"),
    ).toBeNull()
    const deleted = deleteOneCluster(y.length, expected.rate, (g) => rateWithout(y, h, g))
    expect(deleted.most).toBe(expected.most_influential - 1)
    expect(
      difference(Math.sqrt(deleted.variance ?? NaN), expected.jackknife_se, tolerance, "se by deletion"),
    ).toBeNull()
    deleted.leaveOneOut.forEach((value, g) => {
      expect(difference(value, expected.jackknife_values[g] ?? NaN, tolerance, `without ${g}`)).toBeNull()
    })
    const worst = mostInfluential(y, h)
    expect(worst?.index).toBe(expected.most_influential - 1)
    expect(
      difference(
        worst?.without ?? null,
        expected.jackknife_values[worst?.index ?? -1] ?? NaN,
        tolerance,
        "rate without it",
      ),
    ).toBeNull()
  },
)

const creel = z
  .array(z.looseObject({ id: z.string() }))
  .parse(JSON.parse(readCaseFile("conditions/11-creel.json")))
const creelCase = (id: string): unknown => creel.find((entry) => entry.id === id)

test("ten completed trips of a creel survey", () => {
  const { inputs, expected, tolerance } = caseSchema(
    z.object({ catch: numbers, hours: numbers }),
    z.object({ ratio_of_means: number, jackknife_se: number }),
  ).parse(creelCase("creel-ten-anglers"))
  const ratio = ratioOfSums(inputs.catch, inputs.hours)?.ratio ?? null
  expect(difference(ratio, expected.ratio_of_means, tolerance, "ratio of sums")).toBeNull()
  const se = jackknifeSe(inputs.catch, inputs.hours)
  expect(difference(se, expected.jackknife_se, tolerance, "jackknife se")).toBeNull()
})

test("the textbook creel survey of one February, its days unweighted", () => {
  const { inputs, expected, tolerance } = caseSchema(
    z.object({ rows: z.array(z.object({ rod_hours: number, catch: number })) }),
    z.object({ unstratified_ratio_of_sums: number, jackknife_se: number }),
  ).parse(creelCase("creel-textbook-february"))
  const y = Float64Array.from(inputs.rows, (row) => row.catch)
  const h = Float64Array.from(inputs.rows, (row) => row.rod_hours)
  const ratio = ratioOfSums(y, h)?.ratio ?? null
  expect(difference(ratio, expected.unstratified_ratio_of_sums, tolerance, "ratio of sums")).toBeNull()
  expect(difference(jackknifeSe(y, h), expected.jackknife_se, tolerance, "jackknife se")).toBeNull()
})

/** The cases' jackknife is about the mean of the leave-one-out rates, so they are formed here by plain deletion. */
function jackknifeSe(y: Float64Array, h: Float64Array): number {
  return Math.sqrt(deleteOneCluster(y.length, 0, (g) => rateWithout(y, h, g)).variance ?? NaN)
}

function rateWithout(y: Float64Array, h: Float64Array, cluster: number): number {
  const rest = (values: Float64Array): Float64Array => values.filter((_, i) => i !== cluster)
  return ratioOfSums(rest(y), rest(h))?.ratio ?? NaN
}

// What stands below follows from the definitions; no outside value is needed.
test("one cluster in all the data bounds a rate on no side but 0", () => {
  const got = clusterRate(Float64Array.of(3), Float64Array.of(2), { deff: 1, clusters: 1 })
  expect(got).toMatchObject({ estimate: 1.5, low: 0, high: Infinity, df: 0, deffFrom: "pooled" })
})

test("no exposure gives no rate; a wrong total is refused with its value", () => {
  const pooled = { deff: 1, clusters: 9 }
  expect(clusterRate(Float64Array.of(0, 2), Float64Array.of(0, 0), pooled)).toBeNull()
  expect(() => clusterRate(Float64Array.of(1), Float64Array.of(1, 2), pooled)).toThrow(
    "1 of one and 2 of the other",
  )
  expect(() => clusterRate(Float64Array.of(-1), Float64Array.of(1), pooled)).toThrow("-1")
  expect(() => poissonInterval(1, 0)).toThrow(RangeError)
})

test("the cluster that holds every event is the most influential one", () => {
  const got = mostInfluential(Float64Array.of(0, 0, 5, 0), Float64Array.of(0, 1, 1, 9))
  expect(got).toEqual({ index: 2, without: 0 })
  expect(mostInfluential(Float64Array.of(2, 0), Float64Array.of(1, 0))).toBeNull()
})

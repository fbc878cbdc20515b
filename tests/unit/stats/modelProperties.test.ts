import fc from "fast-check"
import { expect, test } from "vitest"
import { fitGlm } from "../../../core/stats/glm/fitGlm.ts"
import { fitFirth } from "../../../core/stats/glm/fitFirth.ts"
import { fitNegativeBinomial } from "../../../core/stats/glm/fitNegativeBinomial.ts"
import { leastSquares } from "../../../core/stats/glm/leastSquares.ts"
import { oneStepChanges } from "../../../core/stats/inference/clusterDeletion.ts"
import { linearContrast } from "../../../core/stats/inference/contrast.ts"
import type { ClusteredRows, Family } from "../../../core/stats/likelihood/rows.ts"
import { column, fromColumns } from "../../../core/stats/matrix/matrix.ts"
import { type MixedFit, fitMixed } from "../../../core/stats/mixed/fitMixed.ts"
import { negativeBinomial, normal, stream, uniform } from "../../../core/stats/random.ts"
import { profileInterval } from "../../../core/stats/inference/profileInterval.ts"
import { findRoot } from "../../../core/stats/optimise/findRoot.ts"
import { conditionalPoisson } from "../../../core/stats/strata/conditionalPoisson.ts"

/** A made-up season: two levels, a covariate, counts with exposure, trips that differ. */
function season(seed: number, { trips = 14, level = 0.5 } = {}): ClusteredRows {
  const random = stream(seed, "season")
  const [a, covariate, y, offset, cluster]: number[][] = [[], [], [], [], []]
  for (let trip = 0; trip < trips; trip++) {
    const effect = 0.6 * normal(random)
    for (let stint = 0; stint < 5; stint++) {
      const isA = uniform(random) < 0.5 ? 1 : 0
      const water = 15 + 10 * uniform(random)
      const hours = 0.25 + uniform(random)
      a?.push(isA)
      covariate?.push(water)
      offset?.push(Math.log(hours))
      cluster?.push(trip)
      y?.push(negativeBinomial(random, hours * Math.exp(0.4 + level * isA + 0.03 * (water - 20) + effect), 2))
    }
  }
  return {
    x: fromColumns(
      [new Float64Array(trips * 5).fill(1), Float64Array.from(a ?? []), Float64Array.from(covariate ?? [])],
      trips * 5,
    ),
    y: Float64Array.from(y ?? []),
    offset: Float64Array.from(offset ?? []),
    cluster: Int32Array.from(cluster ?? []),
    clusters: trips,
  }
}

function mustFit(rows: ClusteredRows, family: Family = "negative binomial"): MixedFit {
  const fit = fitMixed(rows, family, { nodes: 15 })
  if (fit.kind === "separated" || fit.kind === "not fitted") throw new Error(`Not fitted: ${fit.kind}.`)
  return fit
}

const ses = (fit: MixedFit): number[] =>
  Array.from(fit.coefficients, (_, j) =>
    Math.sqrt(fit.covariance?.data[j * ((fit.covariance?.cols ?? 0) + 1)] ?? NaN),
  )

/** In what two fits differ, where they should be one: estimates from different starts and roundings agree to a hundred-thousandth
 *  of a standard error. */
function unlike(a: MixedFit, b: MixedFit, map: (coefficients: number[]) => number[] = (c) => c): string[] {
  const error = Math.max(...ses(a))
  const pairs = map([...a.coefficients]).map(
    (value, j) => [value, b.coefficients[j] ?? NaN, 1e-5 * error] as const,
  )
  return [...pairs, [a.logLik, b.logLik, 1e-6] as const, [a.sd, b.sd, 1e-5] as const].flatMap(
    ([one, other, within]) => (Math.abs(one - other) <= within ? [] : [`${one} and ${other}`]),
  )
}

const seeds = fc.integer({ min: 1, max: 10_000 })
const runs = { numRuns: 12, seed: 20_261_128 }

test("the order of rows does not matter", () => {
  fc.assert(
    fc.property(seeds, (seed) => {
      const rows = season(seed)
      const random = stream(seed, "order")
      const order = Array.from(rows.y.keys())
        .map((i) => ({ i, at: uniform(random) }))
        .toSorted((a, b) => a.at - b.at)
        .map(({ i }) => i)
      const mixed = (values: Float64Array): Float64Array => Float64Array.from(order, (i) => values[i] ?? NaN)
      const shuffled: ClusteredRows = {
        x: fromColumns(
          [0, 1, 2].map((j) => mixed(column(rows.x, j))),
          order.length,
        ),
        y: mixed(rows.y),
        offset: mixed(rows.offset ?? new Float64Array()),
        cluster: Int32Array.from(order, (i) => rows.cluster[i] ?? 0),
        clusters: rows.clusters,
      }
      expect(unlike(mustFit(rows), mustFit(shuffled))).toEqual([])
    }),
    runs,
  )
})

test("naming levels the other way round turns the contrast's sign, and clusters may be numbered anyhow", () => {
  fc.assert(
    fc.property(seeds, (seed) => {
      const rows = season(seed)
      const level = column(rows.x, 1).map((value) => 1 - value)
      const turned: ClusteredRows = {
        ...rows,
        x: fromColumns([column(rows.x, 0), level, column(rows.x, 2)], rows.y.length),
        cluster: rows.cluster.map((g) => rows.clusters - 1 - g),
      }
      const back = ([b0 = 0, b1 = 0, b2 = 0]: number[]) => [b0 + b1, -b1, b2]
      expect(unlike(mustFit(rows), mustFit(turned), back)).toEqual([])
    }),
    runs,
  )
})

test("a covariate in other units, and effort in minutes, change only their own coefficients", () => {
  fc.assert(
    fc.property(seeds, (seed) => {
      const rows = season(seed)
      const fahrenheit = column(rows.x, 2).map((celsius) => celsius * 1.8 + 32)
      const other: ClusteredRows = {
        ...rows,
        x: fromColumns([column(rows.x, 0), column(rows.x, 1), fahrenheit], rows.y.length),
        offset: (rows.offset ?? new Float64Array()).map((log) => log + Math.log(60)),
      }
      const back = ([b0 = 0, b1 = 0, b2 = 0]: number[]) => [b0 - Math.log(60) - (b2 / 1.8) * 32, b1, b2 / 1.8]
      expect(unlike(mustFit(rows), mustFit(other), back)).toEqual([])
    }),
    runs,
  )
})

test("an empty cluster changes nothing, and stands at its prior", () => {
  const rows = season(7)
  const fit = mustFit(rows)
  const more = mustFit({ ...rows, clusters: rows.clusters + 3 })
  expect(unlike(fit, more)).toEqual([])
  expect(more.modes[rows.clusters]).toBe(0)
  expect(more.modeSds[rows.clusters]).toBeCloseTo(more.sd, 12)
})

test("an offset is an exposure: rows cut in two at the same rate leave a Poisson fit as it was", () => {
  fc.assert(
    fc.property(seeds, (seed) => {
      const rows = season(seed)
      const twice = (values: Float64Array): Float64Array => Float64Array.of(...values, ...values)
      const half: ClusteredRows = {
        x: fromColumns(
          [0, 1, 2].map((j) => twice(column(rows.x, j))),
          2 * rows.y.length,
        ),
        y: Float64Array.of(
          ...rows.y.map((count) => Math.floor(count / 2)),
          ...rows.y.map((count) => Math.ceil(count / 2)),
        ),
        offset: twice((rows.offset ?? new Float64Array()).map((log) => log - Math.log(2))),
        cluster: Int32Array.of(...rows.cluster, ...rows.cluster),
        clusters: rows.clusters,
      }
      const [whole, cut] = [mustFit(rows, "poisson"), mustFit(half, "poisson")]
      whole.coefficients.forEach((value, j) => expect(cut.coefficients[j]).toBeCloseTo(value, 6))
      expect(cut.sd).toBeCloseTo(whole.sd, 6)
    }),
    runs,
  )
})

test("an interval holds its estimate, and a wider level holds a narrower one", () => {
  const rows = season(3)
  const fit = mustFit(rows)
  const { covariance } = fit
  if (covariance === null) throw new Error("A covariance was wanted.")
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: -2, max: 2, noNaN: true }), { minLength: 3, maxLength: 3 }),
      (l) => {
        fc.pre(l.some((weight) => Math.abs(weight) > 0.01))
        const contrast = Float64Array.from(l)
        const few = linearContrast(contrast, fit.coefficients, covariance, 5)
        const many = linearContrast(contrast, fit.coefficients, covariance, 50)
        expect(few.low).toBeLessThan(few.estimate)
        expect(few.estimate).toBeLessThan(few.high)
        expect(few.low).toBeLessThan(many.low)
        expect(many.high).toBeLessThan(few.high)
      },
    ),
    { seed: 5 },
  )
})

test("the mixed model's gradient vanishes at its maximum: no neighbour fits better", () => {
  fc.assert(
    fc.property(seeds, fc.constantFrom<Family>("poisson", "negative binomial"), (seed, family) => {
      const rows = season(seed)
      const fit = mustFit(rows, family)
      fc.pre(fit.kind === "fit")
      for (const factor of [0.97, 1.03]) {
        const held = fitMixed(rows, family, { nodes: 15, sd: fit.sd * factor, covariance: false })
        if (held.kind !== "fit") throw new Error("Not fitted.")
        expect(held.logLik).toBeLessThanOrEqual(fit.logLik + 1e-9)
      }
    }),
    runs,
  )
})

/** Whether a result is a finite answer, or a typed reason why there is none. */
function isAnswerOrReason(result: { kind: string; coefficients?: Float64Array; logLik?: number }): boolean {
  if (result.kind === "fit" || result.kind === "boundary")
    return result.coefficients?.every(Number.isFinite) === true
  return ["separated", "not fitted", "constant"].includes(result.kind)
}

const extremes: [string, Partial<ClusteredRows>][] = (() => {
  const rows = season(1)
  const n = rows.y.length
  const every = (value: number) => new Float64Array(n).fill(value)
  const [ones, level, water] = [0, 1, 2].map((j) => column(rows.x, j))
  if (ones === undefined || level === undefined || water === undefined) throw new Error("unreachable")
  const one = Int32Array.of(0)
  return [
    ["all zeros", { y: every(0) }],
    ["one event", { y: every(0).fill(1, 4, 5) }],
    ["counts of a million", { y: rows.y.map((count) => count * 1e6) }],
    ["one huge count", { y: every(1).fill(1e6, 4, 5) }],
    ["one cluster", { cluster: new Int32Array(n), clusters: 1 }],
    ["a cluster a row", { cluster: Int32Array.from(rows.y.keys()), clusters: n }],
    ["a minute of effort each", { offset: every(Math.log(1 / 60)) }],
    ["all counts alike", { y: every(3) }],
    ["a constant column twice", { x: fromColumns([ones, ones, water], n) }],
    [
      "two columns that differ by rounding",
      { x: fromColumns([ones, water, water.map((w) => w * (1 + 1e-15))], n) },
    ],
    ["a level that takes all events", { y: rows.y.map((count, i) => (level[i] === 1 ? count + 1 : 0)) }],
    [
      "50 levels",
      {
        x: fromColumns(
          Array.from({ length: 50 }, (_, k) =>
            Float64Array.from(rows.y.keys(), (i) => (i % 50 === k ? 1 : 0)),
          ),
          n,
        ),
      },
    ],
    [
      "one row",
      {
        x: fromColumns([Float64Array.of(1)], 1),
        y: Float64Array.of(2),
        offset: Float64Array.of(0),
        cluster: one,
        clusters: 1,
      },
    ],
  ]
})()

test.each(extremes)("%s: every model gives a finite answer or says why not", (_, change) => {
  const rows: ClusteredRows = { ...season(1), ...change }
  const shares = { ...rows, y: rows.y.map((count) => Math.min(1, count)) }
  const results = {
    poisson: fitMixed(rows, "poisson", { nodes: 15 }),
    "negative binomial": fitMixed(rows, "negative binomial", { nodes: 15 }),
    logit: fitMixed(shares, "binomial logit", { nodes: 15 }),
    cloglog: fitMixed(shares, "binomial cloglog", { nodes: 15 }),
    "plain logit": fitGlm(shares, "binomial logit"),
    "plain cloglog": fitGlm(shares, "binomial cloglog"),
    "plain Poisson": fitGlm(rows, "poisson"),
    "plain negative binomial": fitNegativeBinomial(rows),
    "Firth's logit": fitFirth(shares, "binomial logit"),
    "Firth's Poisson": fitFirth(rows, "poisson"),
    conditional: conditionalPoisson(rows),
    linear: rows.y.length > rows.x.cols ? leastSquares(rows) : { kind: "not fitted" },
  }
  const wrong = Object.entries(results).filter(([, result]) => !isAnswerOrReason(result))
  expect(wrong.map(([name]) => name)).toEqual([])
})

test("leaving clusters out of an extreme fit gives finite changes or none", () => {
  for (const [, change] of extremes) {
    const rows: ClusteredRows = { ...season(1), ...change }
    const fit = fitMixed(rows, "negative binomial", { nodes: 15 })
    if (fit.kind === "separated" || fit.kind === "not fitted") continue
    expect(oneStepChanges(rows, fit)?.data.every(Number.isFinite) ?? true).toBe(true)
  }
})

test("results are frozen, and cross to another thread as they are", () => {
  const rows = season(4)
  const fit = mustFit(rows)
  const results = [
    fit,
    mustFit({ ...rows, y: rows.y.map(() => 3) }),
    fitGlm(rows, "poisson"),
    fitNegativeBinomial(rows),
    leastSquares(rows),
    conditionalPoisson({ ...rows, x: fromColumns([column(rows.x, 1)], rows.y.length) }),
    linearContrast(Float64Array.of(0, 1, 0), fit.coefficients, fit.covariance ?? rows.x, 5),
  ]
  for (const result of results) {
    expect(Object.isFrozen(result)).toBe(true)
    expect(structuredClone(result)).toEqual(result)
  }
})

test("values that are no numbers, and shapes that do not fit, are refused with the value", () => {
  const rows = season(2)
  expect(() => fitMixed({ ...rows, y: rows.y.map(() => NaN) }, "poisson")).toThrow("NaN")
  expect(() => fitMixed({ ...rows, y: rows.y.map(() => -1) }, "negative binomial")).toThrow("-1")
  expect(() => fitMixed({ ...rows, y: rows.y.map(() => 1.5) }, "poisson")).toThrow("1.5")
  expect(() => fitMixed({ ...rows, y: rows.y.map(() => 2) }, "binomial logit")).toThrow(
    "2 successes in 1 trials",
  )
  expect(() => fitMixed({ ...rows, cluster: rows.cluster.map(() => 99) }, "poisson")).toThrow("99")
  expect(() => fitMixed({ ...rows, offset: Float64Array.of(1) }, "poisson")).toThrow("1 offsets for 70 rows")
  expect(() =>
    fitGlm({ ...rows, x: { ...rows.x, data: rows.x.data.map(() => Infinity) } }, "poisson"),
  ).toThrow("Infinity")
  expect(() => fitMixed(rows, "poisson", { nodes: 0 })).toThrow("from 1 to 200")
})

test("a root is not sought where the function is no number, and its end is told as what was passed", () => {
  const nowhere = (value: number): number => (value === 0 ? -1 : value === 4 ? 1 : NaN)
  expect(findRoot(nowhere, 0, 4, { tolerance: 1e-6, fa: -1, fb: 1 })).toBeNaN()
  const profile = {
    estimate: 0,
    se: 1,
    logLik: 0,
    heldAt: (value: number) => (Math.abs(value) < 1.9 && value !== 0 ? NaN : -(value ** 2)),
  }
  expect(profileInterval(profile, 3.84).high).toBeCloseTo(Math.sqrt(3.84), 12)
})

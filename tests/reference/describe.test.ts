// Cases in cases/stats on describing data; sources and tolerances are in the files. What the library for describing does is
// pinned here, so that another version cannot change a definition unseen. Left out: quantiles of other types, weighted
// variances and median, Pearson's and Kendall's correlations, the Rayleigh test and the Hosmer-Lemeshow statistic, for the
// product gives none of them.
import { parse } from "csv-parse/sync"
import {
  mean,
  quantile,
  sampleRankCorrelation,
  sampleStandardDeviation,
  weightedMean,
} from "simple-statistics"
import { expect, test } from "vitest"
import { z } from "zod"
import { calibration } from "../../core/stats/describe/calibration.ts"
import { calibrationTable } from "../../core/stats/describe/calibrationTable.ts"
import { circularMean } from "../../core/stats/describe/circular.ts"
import { effectiveSize } from "../../core/stats/describe/effectiveSize.ts"
import { fitPowerLaw, predictPowerLaw } from "../../core/stats/describe/powerLaw.ts"
import { brierScore, logLoss } from "../../core/stats/describe/predictionScores.ts"
import { tTwoSidedP } from "../../core/stats/distributions/studentT.ts"
import { difference, loadCase, number, numbers, readCaseFile } from "./case.ts"

test("sample quantiles are of type 7", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/14-quantiles.json",
    z.object({ samples: z.array(numbers), probabilities: numbers }),
    z.object({ samples: z.array(z.object({ type7: numbers })) }),
  )
  expect(inputs.samples).toHaveLength(5)
  inputs.samples.forEach((sample, s) => {
    inputs.probabilities.forEach((p, i) => {
      const wanted = expected.samples[s]?.type7[i] ?? NaN
      expect(difference(quantile([...sample], p), wanted, tolerance, `sample ${s} at ${p}`)).toBeNull()
    })
  })
})

test("mean and standard deviation hold the certified digits", () => {
  const michelson = loadCase(
    "stats/14-michelson.json",
    z.object({ values: z.array(z.number()) }),
    z.object({ mean: number, sd: number }),
  )
  const { values } = michelson.inputs
  expect(difference(mean(values), michelson.expected.mean, michelson.tolerance, "mean")).toBeNull()
  expect(
    difference(sampleStandardDeviation(values), michelson.expected.sd, michelson.tolerance, "sd"),
  ).toBeNull()
  const certified = z.object({ mean: number, sd: number })
  const { expected, tolerance } = loadCase(
    "stats/14-numacc.json",
    z.object({ numacc3: z.string(), numacc4: z.string() }), // the data in words: one value, then 500 pairs about it
    z.object({ numacc3: certified, numacc4: certified }),
  )
  for (const { base, wanted } of [
    { base: 1_000_000, wanted: expected.numacc3 },
    { base: 10_000_000, wanted: expected.numacc4 },
  ]) {
    const around = [base + 0.2, ...Array.from({ length: 1000 }, (_, i) => base + (i % 2 === 0 ? 0.1 : 0.3))]
    expect(difference(mean(around), wanted.mean, tolerance, `mean about ${base}`)).toBeNull()
    expect(difference(sampleStandardDeviation(around), wanted.sd, tolerance, `sd about ${base}`)).toBeNull()
  }
})

test("weighted mean and effective size", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/14-weighted.json",
    z.object({ values: numbers, weights: numbers }),
    z.object({ mean: number, effective_n: number }),
  )
  const got = weightedMean([...inputs.values], [...inputs.weights])
  expect(difference(got, expected.mean, tolerance, "weighted mean")).toBeNull()
  expect(
    difference(effectiveSize(inputs.weights), expected.effective_n, tolerance, "effective size"),
  ).toBeNull()
  expect(effectiveSize(Float64Array.of(0, 0))).toBe(0)
  expect(() => effectiveSize(Float64Array.of(1, -1))).toThrow("-1")
})

test("the rank correlation is Spearman's, with ranks shared by ties", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/14-correlation.json",
    z.array(z.object({ x: numbers, y: numbers })),
    z.array(z.object({ spearman: number })),
  )
  expect(inputs).toHaveLength(3)
  inputs.forEach(({ x, y }, i) => {
    const got = sampleRankCorrelation([...x], [...y])
    expect(difference(got, expected[i]?.spearman ?? NaN, tolerance, `correlation ${i}`)).toBeNull()
  })
})

test("mean direction and resultant length", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/14-circular.json",
    z.array(z.object({ angles: numbers })),
    z.array(z.object({ mean: number.nullable(), resultant: number })),
  )
  expect(inputs).toHaveLength(3)
  inputs.forEach(({ angles }, i) => {
    const got = circularMean(angles)
    expect(difference(got.mean, expected[i]?.mean ?? null, tolerance, `direction ${i}`)).toBeNull()
    expect(difference(got.resultant, expected[i]?.resultant ?? NaN, tolerance, `length ${i}`)).toBeNull()
  })
  expect(() => circularMean(new Float64Array())).toThrow("at least one angle")
  expect(() => circularMean(Float64Array.of(Infinity))).toThrow("Infinity")
})

const scores = z.object({
  brier: number,
  log_loss: number,
  calibration_intercept_in_the_large: number,
  calibration_slope: number,
  calibration_slope_se: number,
  calibration_joint_intercept: number,
})
const groups = z.object({ n: numbers, observed: numbers, expected: numbers })
const calibrated = loadCase(
  "stats/14-calibration.json",
  z.object({ outcome: numbers, p_fitted: numbers, p_distorted: numbers }),
  z.object({ fitted: scores, distorted: scores, hosmer_lemeshow_10: groups, hosmer_lemeshow_5: groups }),
)
const outcome = Uint8Array.from(calibrated.inputs.outcome)

test("calibration intercept and slope", () => {
  const { inputs, expected, tolerance } = calibrated
  for (const { p, wanted } of [
    { p: inputs.p_fitted, wanted: expected.fitted },
    { p: inputs.p_distorted, wanted: expected.distorted },
  ]) {
    const got = calibration({ outcome, p })
    if (got.kind !== "fit") throw new Error(`Calibration was ${got.kind}.`)
    const { intercept, slope, seSlope, lineIntercept } = got
    const agree = (value: number, should: number, what: string): void =>
      expect(difference(value, should, tolerance, what)).toBeNull()
    agree(intercept, wanted.calibration_intercept_in_the_large, "intercept")
    agree(slope, wanted.calibration_slope, "slope")
    agree(seSlope, wanted.calibration_slope_se, "se of slope")
    agree(lineIntercept, wanted.calibration_joint_intercept, "intercept of the line")
  }
  const alike = { outcome: Uint8Array.of(1, 0), p: Float64Array.of(0.5, 0.5) }
  expect(calibration(alike)).toEqual({ kind: "not fitted", why: "flat" })
  const allTold = { outcome: Uint8Array.of(1, 0, 1), p: Float64Array.of(0.9, 0.2, 0.8) }
  expect(calibration(allTold).kind).toBe("separated")
})

test("Brier score and log loss", () => {
  const { inputs, expected, tolerance } = calibrated
  for (const { p, wanted } of [
    { p: inputs.p_fitted, wanted: expected.fitted },
    { p: inputs.p_distorted, wanted: expected.distorted },
  ]) {
    expect(difference(brierScore({ outcome, p }), wanted.brier, tolerance, "Brier")).toBeNull()
    expect(difference(logLoss({ outcome, p }), wanted.log_loss, tolerance, "log loss")).toBeNull()
  }
  const wrong = { outcome: Uint8Array.of(1), p: Float64Array.of(0) }
  expect(difference(logLoss(wrong), -Math.log(1e-15), { rel: 1e-12, abs: 0 }, "clipped")).toBeNull()
  expect(() => brierScore({ outcome: Uint8Array.of(1), p: Float64Array.of(1.2) })).toThrow("1.2")
  expect(() => brierScore({ outcome: Uint8Array.of(2), p: Float64Array.of(0.2) })).toThrow("2")
  expect(() => logLoss({ outcome: Uint8Array.of(), p: Float64Array.of() })).toThrow(RangeError)
})

test("observed beside expected in groups of rising probability", () => {
  const { inputs, expected, tolerance } = calibrated
  for (const { count, wanted } of [
    { count: 10, wanted: expected.hosmer_lemeshow_10 },
    { count: 5, wanted: expected.hosmer_lemeshow_5 },
  ]) {
    const table = calibrationTable({ outcome, p: inputs.p_fitted }, count)
    expect(table.map(({ predictions }) => predictions)).toEqual([...wanted.n])
    expect(table.map(({ observed }) => observed)).toEqual([...wanted.observed])
    table.forEach((group, i) => {
      expect(difference(group.expected, wanted.expected[i] ?? NaN, tolerance, `expected ${i}`)).toBeNull()
    })
  }
  const same = { outcome: Uint8Array.of(1, 0, 0), p: Float64Array.of(0.4, 0.4, 0.4) }
  expect(calibrationTable(same, 4)).toMatchObject([{ from: 0.4, to: 0.4, predictions: 3, observed: 1 }])
})

const measured = z
  .array(z.object({ species: z.coerce.number(), length_cm: z.coerce.number(), weight_g: z.coerce.number() }))
  .parse(parse(readCaseFile("stats/15-fish.csv"), { columns: true }))

test.each(["perch", "pike"])("the power law of weight on length: %s", (name) => {
  const { inputs, expected, tolerance } = loadCase(
    `stats/15-length-weight-${name}.json`,
    z.object({ keep: z.object({ species: number }), new_lengths: numbers }),
    z.object({
      n: number,
      log_a: number,
      b: number,
      se_log_a: number,
      se_b: number,
      sigma: number,
      r_squared: number,
      b_interval_95: numbers,
      t_isometry: number,
      p_isometry: number,
      correction_lognormal: number,
      predictions: z.array(
        z.object({ length: number, median: number, mean_lognormal: number, low: number, high: number }),
      ),
    }),
  )
  const kept = measured.filter((row) => row.species === inputs.keep.species && row.weight_g > 0)
  const law = fitPowerLaw(
    Float64Array.from(kept, (row) => row.length_cm),
    Float64Array.from(kept, (row) => row.weight_g),
  )
  const agree = (got: number, wanted: number, what: string): void =>
    expect(difference(got, wanted, tolerance, what)).toBeNull()
  expect(law.n).toBe(expected.n)
  agree(law.logA, expected.log_a, "log a")
  agree(law.b, expected.b, "b")
  agree(law.seLogA, expected.se_log_a, "se of log a")
  agree(law.seB, expected.se_b, "se of b")
  agree(law.sigma, expected.sigma, "sigma")
  agree(law.rSquared, expected.r_squared, "R squared")
  agree(law.bInterval.low, expected.b_interval_95[0] ?? NaN, "b low")
  agree(law.bInterval.high, expected.b_interval_95[1] ?? NaN, "b high")
  const t = (law.b - 3) / law.seB
  agree(t, expected.t_isometry, "t of b = 3")
  agree(tTwoSidedP(t, law.n - 2), expected.p_isometry, "p of b = 3")
  expect(expected.predictions.map(({ length }) => length)).toEqual([...inputs.new_lengths])
  for (const wanted of expected.predictions) {
    const got = predictPowerLaw(law, wanted.length)
    agree(got.median, wanted.median, "median")
    agree(got.mean, wanted.mean_lognormal, "mean")
    agree(got.mean / got.median, expected.correction_lognormal, "correction")
    agree(got.low, wanted.low, "low")
    agree(got.high, wanted.high, "high")
  }
})

test("a power law needs values above 0 that differ", () => {
  const three = Float64Array.of(1, 2, 3)
  expect(() => fitPowerLaw(three, Float64Array.of(1, 0, 2))).toThrow("given 0")
  expect(() => fitPowerLaw(Float64Array.of(2, 2, 2), three)).toThrow("all are 2")
  expect(() => fitPowerLaw(Float64Array.of(1, 2), Float64Array.of(1, 2))).toThrow("three pairs")
  expect(() => predictPowerLaw(fitPowerLaw(three, Float64Array.of(1, 8, 26)), -1)).toThrow("-1")
})

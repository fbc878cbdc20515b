// Cases in cases/stats, computed with R 4.2.2 from formulas written out; sources, data and tolerances are in the files.
import { expect, test } from "vitest"
import { z } from "zod"
import { fitGlm } from "../../core/stats/glm/fitGlm.ts"
import { jackknifedVariance, oneStepChanges } from "../../core/stats/inference/clusterDeletion.ts"
import { commonSupport } from "../../core/stats/inference/commonSupport.ts"
import { meanInterval, standardisedMean } from "../../core/stats/inference/standardised.ts"
import type { ClusteredRows } from "../../core/stats/likelihood/rows.ts"
import { column, fromColumns, quadraticForm, selectRows } from "../../core/stats/matrix/matrix.ts"
import { type MixedFit, fitMixed } from "../../core/stats/mixed/fitMixed.ts"
import { Differences, loadCase, number, numbers } from "./case.ts"
import {
  clusteredRowsOf,
  designOf,
  modelInputs,
  numericColumn,
  readTable,
  rowsOf,
  textColumn,
} from "./modelCase.ts"

function mustFit(rows: ClusteredRows, nodes: number): MixedFit {
  const fit = fitMixed(rows, "negative binomial", { nodes })
  if (fit.kind !== "fit") throw new Error(`The model was not fitted: ${fit.kind}.`)
  return fit
}

test("standardised rates over the rows where all levels were agree with R", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/17-standardised-rate.json",
    modelInputs.extend({
      nodes: number,
      restricted_by: z.object({ categorical: z.array(z.string()), continuous: z.string() }),
    }),
    z.object({
      stints_kept: number,
      share_of_effort_kept: number,
      df: number,
      levels: z.record(
        z.string(),
        z.object({
          rate: number,
          typical_trip: number,
          gradient_log_rate_beta_logsd_logtheta: numbers,
          se_log_model: number,
          se_log_jackknife: number,
          se_log_typical_model: number,
          se_log_typical_jackknife: number,
          interval: numbers,
          interval_typical: numbers,
        }),
      ),
    }),
  )
  const table = readTable(inputs.data)
  const rows = clusteredRowsOf(inputs)
  const fit = mustFit(rows, inputs.nodes)
  const { covariance } = fit
  const changes = oneStepChanges(rows, fit)
  if (covariance === null || changes === null) throw new Error("Both were wanted.")
  const codes = (name: string): Float64Array => {
    const text = textColumn(table, name)
    const known = [...new Set(text)]
    return Float64Array.from(text, (value) => known.indexOf(value))
  }
  const names = inputs.factors["lure"] ?? []
  const hours = (rows.offset ?? new Float64Array()).map(Math.exp)
  const support = commonSupport({
    group: Int32Array.from(textColumn(table, "lure"), (name) => names.indexOf(name)),
    names,
    weight: hours,
    categorical: inputs.restricted_by.categorical.map(codes),
    continuous: [numericColumn(table, inputs.restricted_by.continuous)],
  })
  const found = new Differences(tolerance)
  const kept = Int32Array.from(Array.from(hours.keys()).filter((i) => support.kept[i] === 1))
  expect(kept.length).toBe(expected.stints_kept)
  expect(support.leftOut).toEqual([])
  found.add("share of effort", support.share, expected.share_of_effort_kept)
  for (const [level, wanted] of Object.entries(expected.levels)) {
    const x = selectRows(rows.x, kept)
    inputs.columns.forEach(({ name }, j) => {
      if (name.startsWith("lure")) column(x, j).fill(name === `lure${level}` ? 1 : 0)
    })
    const weights = Float64Array.from(kept, (i) => hours[i] ?? NaN)
    const at = standardisedMean(x, weights, "negative binomial", fit)
    found.add(`${level}: rate`, at.mean, wanted.rate)
    found.add(`${level}: typical`, at.typical, wanted.typical_trip)
    const gradient = Float64Array.of(...at.gradient, 0)
    gradient.forEach((value, j) =>
      found.add(`${level}: gradient ${j}`, value, wanted.gradient_log_rate_beta_logsd_logtheta[j]),
    )
    const typicalGradient = Float64Array.of(...at.typicalGradient, 0)
    const own = at.gradient.slice(0, x.cols)
    const jackknifed = jackknifedVariance(own, changes, rows.clusters)
    const sdPart = fit.sd ** 4 * (covariance.data[x.cols * (covariance.rows + 1)] ?? NaN)
    const model = Math.sqrt(quadraticForm(gradient, covariance))
    const jackknife = Math.sqrt(jackknifed + sdPart)
    found.add(`${level}: se`, model, wanted.se_log_model)
    found.add(`${level}: jackknife se`, jackknife, wanted.se_log_jackknife)
    const typicalModel = Math.sqrt(quadraticForm(typicalGradient, covariance))
    found.add(`${level}: typical se`, typicalModel, wanted.se_log_typical_model)
    found.add(`${level}: typical jackknife se`, Math.sqrt(jackknifed), wanted.se_log_typical_jackknife)
    const ends = meanInterval(at.mean, at.scale, Math.max(model, jackknife), expected.df)
    found.add(`${level}: low`, ends.low, wanted.interval[0])
    found.add(`${level}: high`, ends.high, wanted.interval[1])
    const spread = Math.max(typicalModel, Math.sqrt(jackknifed))
    const typicalEnds = meanInterval(at.typical, at.scale, spread, expected.df)
    found.add(`${level}: typical low`, typicalEnds.low, wanted.interval_typical[0])
    found.add(`${level}: typical high`, typicalEnds.high, wanted.interval_typical[1])
  }
  expect(found.sentences).toEqual([])
})

test("the level that was used under one condition only is left out so that the others overlap", () => {
  const { inputs, expected } = loadCase(
    "stats/17-overlap.json",
    z.object({
      stints: z.array(z.object({ level: z.string(), light: z.string(), water: number, h: number })),
    }),
    z.object({
      levels_compared: z.array(z.string()),
      left_out: z.union([z.array(z.string()), z.string().transform((one) => [one])]),
      kept: z.array(z.boolean()),
      share_of_effort: number,
    }),
  )
  const names = [...new Set(inputs.stints.map(({ level }) => level))]
  const lights = [...new Set(inputs.stints.map(({ light }) => light))]
  const got = commonSupport({
    group: Int32Array.from(inputs.stints, ({ level }) => names.indexOf(level)),
    names,
    weight: Float64Array.from(inputs.stints, ({ h }) => h),
    categorical: [Float64Array.from(inputs.stints, ({ light }) => lights.indexOf(light))],
    continuous: [Float64Array.from(inputs.stints, ({ water }) => water)],
  })
  expect(got.groups.map((g) => names[g]).toSorted((a = "", b = "") => a.localeCompare(b))).toEqual(
    expected.levels_compared,
  )
  expect(got.leftOut.map((g) => names[g])).toEqual(expected.left_out)
  expect([...got.kept].map((flag) => flag === 1)).toEqual(expected.kept)
  expect(got.share).toBeCloseTo(expected.share_of_effort, 12) // sums of a dozen numbers
})

test.each(["09-standardised-ships", "09-standardised-birthwt", "09-standardised-birthwt-interaction"])(
  "standardised means of a plain model agree with R: %s",
  (id) => {
    const { inputs, expected, tolerance } = loadCase(
      `stats/${id}.json`,
      modelInputs.extend({ vary: z.string(), weights: z.string() }),
      z.object({
        levels: z.array(z.object({ level: z.string(), mean: number, se: number, interval: numbers })),
      }),
    )
    const table = readTable(inputs.data)
    const rows = rowsOf(inputs)
    const family = inputs.family === "poisson" ? "poisson" : "binomial logit"
    const fit = fitGlm(rows, family)
    if (fit.kind !== "fit") throw new Error("The model was not fitted.")
    const weights =
      inputs.weights === "every row 1"
        ? new Float64Array(table.rows).fill(1)
        : numericColumn(table, inputs.weights)
    const found = new Differences(tolerance)
    for (const { level, mean, se, interval } of expected.levels) {
      const set = new Map(table.text)
      set.set(
        inputs.vary,
        Array.from({ length: table.rows }, () => level),
      )
      const at = standardisedMean(
        designOf({ rows: table.rows, text: set }, inputs.columns),
        weights,
        family,
        { coefficients: fit.coefficients, sd: 0 },
      )
      const onScale = Math.sqrt(
        quadraticForm(at.typicalGradient.slice(0, fit.coefficients.length), fit.covariance),
      )
      found.add(`mean of ${level}`, at.mean, mean)
      const slope = at.scale === "log" ? at.mean : at.mean * (1 - at.mean)
      found.add(`se of ${level}`, onScale * slope, se)
      // the files' intervals are normal: t at a billion degrees of freedom
      const ends = meanInterval(at.mean, at.scale, onScale, 1e9)
      found.add(`low of ${level}`, ends.low, interval[0])
      found.add(`high of ${level}`, ends.high, interval[1])
    }
    expect(found.sentences).toEqual([])
  },
)

test("means over random intercepts agree with R for each link", () => {
  const { inputs, expected } = loadCase(
    "stats/09-marginal-mean-mixed.json",
    z.object({ eta: numbers, sd: number }),
    z.object({
      logit_marginal: numbers,
      logit_conditional_at_zero: numbers,
      log_marginal: numbers,
      cloglog_marginal: numbers,
    }),
  )
  // 15 nodes hold 1e-9 here
  const found = new Differences({ rel: 1e-8, abs: 0 })
  inputs.eta.forEach((eta, i) => {
    const x = fromColumns([Float64Array.of(1)], 1)
    const model = { coefficients: Float64Array.of(eta), sd: inputs.sd }
    const weight = Float64Array.of(1)
    const logit = standardisedMean(x, weight, "binomial logit", model)
    found.add(`logit ${eta}`, logit.mean, expected.logit_marginal[i])
    found.add(`logit ${eta} at 0`, logit.typical, expected.logit_conditional_at_zero[i])
    found.add(`log ${eta}`, standardisedMean(x, weight, "poisson", model).mean, expected.log_marginal[i])
    const cloglog = standardisedMean(x, weight, "binomial cloglog", model)
    found.add(`cloglog ${eta}`, cloglog.mean, expected.cloglog_marginal[i])
  })
  expect(found.sentences).toEqual([])
})

// Cases in cases/stats, computed with R 4.2.2 from formulas written out; sources, data and tolerances are in the files.
import { expect, test } from "vitest"
import { z } from "zod"
import {
  jackknifedVariance,
  oneStepChanges,
  refittedChanges,
} from "../../core/stats/inference/clusterDeletion.ts"
import { clusterLevelColumns } from "../../core/stats/inference/clusterLevel.ts"
import { likelihoodRatioF, linearContrast, tEstimate, wider } from "../../core/stats/inference/contrast.ts"
import { emptyLevelBound, emptyLevelCut } from "../../core/stats/inference/emptyLevel.ts"
import { heldLogLik, likelihoodRatioInterval } from "../../core/stats/inference/likelihoodRatioInterval.ts"
import type { ClusteredRows } from "../../core/stats/likelihood/rows.ts"
import { column } from "../../core/stats/matrix/matrix.ts"
import { type MixedFit, fitMixed } from "../../core/stats/mixed/fitMixed.ts"
import { Differences, loadCase, number, numbers } from "./case.ts"
import { clusteredRowsOf, designOf, modelInputs, readTable, withoutTerm } from "./modelCase.ts"

const byName = z.record(z.string(), number)

function mustFit(rows: ClusteredRows, nodes: number): MixedFit {
  const fit = fitMixed(rows, "negative binomial", { nodes })
  if (fit.kind !== "fit") throw new Error(`The model was not fitted: ${fit.kind}.`)
  return fit
}

const contrastCase = loadCase(
  "stats/17-adjusted-contrasts.json",
  modelInputs.extend({
    nodes: number,
    contrasts: z.array(z.array(numbers)).transform((lists) => lists.flat()),
  }),
  z.object({
    coefficients: byName,
    sd: number,
    theta: number,
    log_likelihood: number,
    vcov_beta_logsd_logtheta: z.array(numbers),
    laplace: z.object({ coefficients: byName, sd: number, theta: number, log_likelihood: number }),
    trips: number,
    trip_level_parameters: number,
    df_trip_level: number,
    contrasts: z.record(
      z.string(),
      z.object({
        log_ratio: number,
        se_model: number,
        se_jackknife_one_step: number,
        se_jackknife_exact: number,
        df: number,
        interval_model_t: numbers,
        interval_jackknife_t: numbers,
        wider: z.enum(["model", "jackknife"]),
      }),
    ),
    jackknife_changes: z.object({
      trip: z.array(z.string()),
      cork_one_step: numbers,
      cork_exact: numbers,
      guided_one_step: numbers,
      guided_exact: numbers,
    }),
  }),
)

test("a negative binomial model with random intercepts gives R's contrasts, jackknifed by one step and by refits", () => {
  const { inputs, expected, tolerance } = contrastCase
  const rows = clusteredRowsOf(inputs)
  const fit = mustFit(rows, inputs.nodes)
  const { covariance } = fit
  if (covariance === null) throw new Error("A covariance was wanted.")
  const found = new Differences(tolerance)
  found.add("log-likelihood", fit.logLik, expected.log_likelihood)
  found.add("sd", fit.sd, expected.sd)
  found.add("theta", fit.dispersion, expected.theta)
  inputs.columns.forEach(({ name }, j) => found.add(name, fit.coefficients[j], expected.coefficients[name]))
  expected.vcov_beta_logsd_logtheta.forEach((row, i) =>
    row.forEach((value, j) =>
      found.add(`covariance ${i}, ${j}`, covariance.data[i + covariance.rows * j], value),
    ),
  )
  const laplace = mustFit(rows, 1)
  found.add("Laplace log-likelihood", laplace.logLik, expected.laplace.log_likelihood)
  found.add("Laplace sd", laplace.sd, expected.laplace.sd)
  found.add("Laplace theta", laplace.dispersion, expected.laplace.theta)
  inputs.columns.forEach(({ name }, j) =>
    found.add(`Laplace ${name}`, laplace.coefficients[j], expected.laplace.coefficients[name]),
  )
  const tripLevel = clusterLevelColumns(rows.x, rows.cluster, rows.clusters)
  expect(tripLevel.length).toBe(expected.trip_level_parameters)
  const df = rows.clusters - tripLevel.length
  expect(df).toBe(expected.df_trip_level)
  const oneStep = oneStepChanges(rows, fit)
  const exact = refittedChanges(rows, fit)
  if (oneStep === null || exact === null) throw new Error("Each trip can be left out.")
  const named = Object.entries(expected.contrasts)
  expect(named.length).toBe(inputs.contrasts.length)
  named.forEach(([name, wanted], at) => {
    const contrast = inputs.contrasts[at] ?? new Float64Array()
    const model = linearContrast(contrast, fit.coefficients, covariance, df)
    found.add(`${name}: log ratio`, model.estimate, wanted.log_ratio)
    found.add(`${name}: se`, model.se, wanted.se_model)
    found.add(`${name}: low`, Math.exp(model.low), wanted.interval_model_t[0])
    found.add(`${name}: high`, Math.exp(model.high), wanted.interval_model_t[1])
    const spread = Math.sqrt(jackknifedVariance(contrast, oneStep, rows.clusters))
    const jackknife = tEstimate(model.estimate, spread, df)
    found.add(`${name}: jackknife se`, jackknife.se, wanted.se_jackknife_one_step)
    found.add(`${name}: jackknife low`, Math.exp(jackknife.low), wanted.interval_jackknife_t[0])
    found.add(`${name}: jackknife high`, Math.exp(jackknife.high), wanted.interval_jackknife_t[1])
    expect(wider(model, jackknife) === model).toBe(wanted.wider === "model")
    // R refits at 15 nodes
    const refitted = Math.sqrt(jackknifedVariance(contrast, exact, rows.clusters))
    found.add(`${name}: se by refits`, refitted, wanted.se_jackknife_exact, { rel: 1e-3, abs: 0 })
  })
  const { trip, cork_one_step, cork_exact, guided_one_step, guided_exact } = expected.jackknife_changes
  const at = (name: string): number => inputs.columns.findIndex((own) => own.name === name)
  trip.forEach((name, t) => {
    const g = rows.names.indexOf(name)
    const change = (changes: typeof oneStep, coefficient: string) => column(changes, at(coefficient))[g]
    // changes near 0 carry the error of the estimates
    const near = { rel: 1e-4, abs: 1e-5 }
    found.add(`cork without ${name}`, change(oneStep, "lurecork"), cork_one_step[t], near)
    found.add(`guided without ${name}`, change(oneStep, "purposeguided"), guided_one_step[t], near)
    found.add(`cork refitted without ${name}`, change(exact, "lurecork"), cork_exact[t], {
      rel: 1e-3,
      abs: 1e-4,
    })
    found.add(`guided refitted without ${name}`, change(exact, "purposeguided"), guided_exact[t], {
      rel: 1e-3,
      abs: 1e-4,
    })
  })
  expect(found.sentences).toEqual([])
})

test("likelihood-ratio intervals and the F test of a factor agree with R", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/17-adjusted-lr-f.json",
    modelInputs.extend({ nodes: number }),
    z.object({
      df: number,
      interval_log_cork: numbers,
      interval_log_spoon: numbers,
      lure_test: z.object({ f: number, df1: number, df2: number, p: number, log_likelihood_without: number }),
    }),
  )
  const rows = clusteredRowsOf(inputs)
  const fit = mustFit(rows, inputs.nodes)
  const found = new Differences(tolerance)
  for (const [name, wanted] of [
    ["lurecork", expected.interval_log_cork],
    ["lurespoon", expected.interval_log_spoon],
  ] as const) {
    const contrast = Float64Array.from(inputs.columns, (own) => (own.name === name ? 1 : 0))
    const { low, high } = likelihoodRatioInterval(fit, contrast, expected.df, heldLogLik(rows, fit, contrast))
    found.add(`low ${name}`, low, wanted[0])
    found.add(`high ${name}`, high, wanted[1])
  }
  const columns = withoutTerm(inputs, "lure")
  const without = mustFit({ ...rows, x: designOf(readTable(inputs.data), columns) }, inputs.nodes)
  found.add("log-likelihood without", without.logLik, expected.lure_test.log_likelihood_without)
  const { f, p } = likelihoodRatioF(
    fit.logLik,
    without.logLik,
    inputs.columns.length - columns.length,
    expected.df,
  )
  found.add("F", f, expected.lure_test.f)
  found.add("p", p, expected.lure_test.p)
  expect(found.sentences).toEqual([])
})

test("a level without events gets R's one-sided bound", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/17-adjusted-zero-level.json",
    modelInputs.extend({ nodes: number, level_without_fish: z.string() }),
    z.object({
      log_likelihood_at_minus_infinity: number,
      sd: number,
      theta: number,
      df: number,
      cut: number,
      upper_log_ratio_to_jig: number,
    }),
  )
  const rows = clusteredRowsOf(inputs)
  const level = inputs.columns.findIndex(({ name }) => name === `lure${inputs.level_without_fish}`)
  const found = new Differences(tolerance)
  found.add("cut", emptyLevelCut(expected.df), expected.cut)
  const bound = emptyLevelBound(rows, level, "negative binomial", { df: expected.df, nodes: inputs.nodes })
  found.add("log-likelihood of the rest", bound?.rest.logLik, expected.log_likelihood_at_minus_infinity)
  found.add("sd of the rest", bound?.rest.sd, expected.sd)
  found.add("theta of the rest", bound?.rest.dispersion, expected.theta)
  found.add("upper end", bound?.bound, expected.upper_log_ratio_to_jig)
  expect(found.sentences).toEqual([])
})

// Cases in cases/stats, computed with R 4.2.2 from formulas written out; sources, data and tolerances are in the files.
import { expect, test } from "vitest"
import { z } from "zod"
import { fitGlm } from "../../core/stats/glm/fitGlm.ts"
import {
  jackknifedVariance,
  mostMoving,
  oneStepChanges,
  refittedChanges,
} from "../../core/stats/inference/clusterDeletion.ts"
import { clusterLevelColumns } from "../../core/stats/inference/clusterLevel.ts"
import { commonSupport } from "../../core/stats/inference/commonSupport.ts"
import { likelihoodRatioF, linearContrast, tEstimate, wider } from "../../core/stats/inference/contrast.ts"
import { emptyLevelBound, emptyLevelCut } from "../../core/stats/inference/emptyLevel.ts"
import { likelihoodRatioInterval } from "../../core/stats/inference/profileMixed.ts"
import { meanInterval, standardisedMean } from "../../core/stats/inference/standardised.ts"
import type { ClusteredRows, Rows } from "../../core/stats/likelihood/rows.ts"
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
  withoutTerm,
} from "./modelCase.ts"

const byName = z.record(z.string(), number)

function mustFit(rows: ClusteredRows, nodes: number): MixedFit {
  const fit = fitMixed(rows, "negative binomial", { nodes })
  if (fit.kind !== "fit") throw new Error(`The model was not fitted: ${fit.kind}.`)
  return fit
}

const contrastCase = loadCase(
  "stats/17-adjusted-contrasts.json",
  modelInputs.extend({ nodes: number, contrasts: z.tuple([z.array(numbers), z.unknown()]).transform(([c]) => c) }),
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
    found.add(`cork refitted without ${name}`, change(exact, "lurecork"), cork_exact[t], { rel: 1e-3, abs: 1e-4 })
    found.add(`guided refitted without ${name}`, change(exact, "purposeguided"), guided_exact[t], { rel: 1e-3, abs: 1e-4 })
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
    const { low, high } = likelihoodRatioInterval(rows, fit, contrast, expected.df)
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
  expect(got.groups.map((g) => names[g]).sort()).toEqual(expected.levels_compared)
  expect(got.leftOut.map((g) => names[g])).toEqual(expected.left_out)
  expect([...got.kept].map((flag) => flag === 1)).toEqual(expected.kept)
  expect(got.share).toBeCloseTo(expected.share_of_effort, 12) // sums of a dozen numbers
})

test("refitting without each cluster agrees with R, and names the one that moves each coefficient most", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/16-leave-one-cluster-out.json",
    modelInputs,
    z.object({
      full: byName,
      without: z.record(z.string(), numbers),
      most_influential: z.record(z.string(), z.string()),
      largest_change: byName,
      jackknife_se: byName,
    }),
  )
  const rows = clusteredRowsOf(inputs)
  const plain = (which: Rows, start?: Float64Array) => {
    const fit = fitGlm(which, "poisson", start)
    if (fit.kind !== "fit") throw new Error("The model was not fitted.")
    return fit
  }
  const full = plain(rows)
  const changes = fromColumns(
    inputs.columns.map((_, j) =>
      Float64Array.from(rows.names, (name) => {
        const left = Int32Array.from(
          Array.from(rows.cluster.keys()).filter((i) => rows.names[rows.cluster[i] ?? 0] !== name),
        )
        const again = plain(
          {
            x: selectRows(rows.x, left),
            y: Float64Array.from(left, (i) => rows.y[i] ?? NaN),
            offset: Float64Array.from(left, (i) => rows.offset?.[i] ?? NaN),
          },
          full.coefficients,
        )
        return (again.coefficients[j] ?? NaN) - (full.coefficients[j] ?? NaN)
      }),
    ),
    rows.clusters,
  )
  const found = new Differences(tolerance)
  inputs.columns.forEach(({ name }, j) => {
    found.add(name, full.coefficients[j], expected.full[name])
    rows.names.forEach((cluster, g) =>
      found.add(
        `${name} without ${cluster}`,
        (full.coefficients[j] ?? NaN) + (column(changes, j)[g] ?? NaN),
        expected.without[cluster]?.[j],
      ),
    )
    const contrast = Float64Array.from(inputs.columns, (_, k) => (k === j ? 1 : 0))
    const worst = mostMoving(contrast, changes)
    expect(rows.names[worst?.cluster ?? -1]).toBe(expected.most_influential[name])
    found.add(`largest change of ${name}`, worst?.change, expected.largest_change[name])
    // R's jackknife is about the mean of the refits, ours about the whole fit: their squares differ by G (mean change)^2
    const mean = column(changes, j).reduce((sum, change) => sum + change, 0) / rows.clusters
    const about = jackknifedVariance(contrast, changes, rows.clusters) - (rows.clusters - 1) * mean ** 2
    found.add(`jackknife se of ${name}`, Math.sqrt(about), expected.jackknife_se[name])
  })
  expect(found.sentences).toEqual([])
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
      set.set(inputs.vary, Array.from({ length: table.rows }, () => level))
      const at = standardisedMean(
        designOf({ rows: table.rows, text: set }, inputs.columns),
        weights,
        family,
        { coefficients: fit.coefficients, sd: 0 },
      )
      const onScale = Math.sqrt(quadraticForm(at.typicalGradient.slice(0, fit.coefficients.length), fit.covariance))
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

// Cases in cases/stats, computed with R 4.2.2: adaptive Gauss-Hermite quadrature written out and maximised with tight settings,
// checked against lme4 and glmmTMB; sources, data and tolerances are in the files. lme4's own log-likelihoods leave out constants
// for more than one node and are not compared.
import { expect, test } from "vitest"
import { z } from "zod"
import { chiSquaredUpper } from "../../core/stats/distributions/chiSquared.ts"
import { normalQuantile } from "../../core/stats/distributions/normal.ts"
import { fitGlm } from "../../core/stats/glm/fitGlm.ts"
import { holding, profileInterval } from "../../core/stats/inference/profileInterval.ts"
import type { ClusteredRows, Family } from "../../core/stats/likelihood/rows.ts"
import { fromColumns } from "../../core/stats/matrix/matrix.ts"
import { type MixedFit, type MixedOptions, fitMixed } from "../../core/stats/mixed/fitMixed.ts"
import { Differences, loadCase, number } from "./case.ts"
import { clusteredRowsOf, familyOf, modelInputs } from "./modelCase.ts"

const byName = z.record(z.string(), number)

const fitAt = z.object({
  nodes: number,
  coefficients: byName,
  se: byName,
  sd: number,
  se_log_sd: number,
  theta: number.nullish(),
  se_log_theta: number.nullish(),
  log_likelihood: number,
  modes: byName.optional(),
  mode_sd: byName.optional(),
})

export function mustFit(rows: ClusteredRows, family: Family, options: MixedOptions): MixedFit {
  const fit = fitMixed(rows, family, options)
  if (fit.kind !== "fit" && fit.kind !== "boundary") throw new Error(`The model was not fitted: ${fit.kind}.`)
  return fit
}

test.each([
  "05-binomial-cbpp",
  "05-logistic-bacteria",
  "05-logistic-toenail",
  "05-nb-offset-owls",
  "05-nb-salamanders",
  "05-poisson-grouseticks",
  "05-poisson-offset-owls",
])("a model with random intercepts agrees with R, by Laplace and by quadrature: %s", (id) => {
  const { inputs, expected, tolerance } = loadCase(
    `stats/${id}.json`,
    modelInputs,
    z.object({
      fits: z.array(fitAt),
      glm_log_likelihood: number.optional(),
      lr_random_effect: number.optional(),
      lr_p_boundary: number.optional(),
    }),
  )
  const family = familyOf(inputs)
  const rows = clusteredRowsOf(inputs)
  const found = new Differences(tolerance)
  let last = NaN
  for (const wanted of expected.fits) {
    const fit = mustFit(rows, family, { nodes: wanted.nodes })
    const at = `at ${wanted.nodes} nodes`
    const { covariance } = fit
    if (covariance === null) throw new Error("A covariance was wanted.")
    const se = (j: number): number => Math.sqrt(covariance.data[j * (covariance.cols + 1)] ?? NaN)
    found.add(`log-likelihood ${at}`, fit.logLik, wanted.log_likelihood)
    found.add(`sd ${at}`, fit.sd, wanted.sd)
    found.add(`se of log sd ${at}`, se(inputs.columns.length), wanted.se_log_sd)
    if (typeof wanted.theta === "number") {
      found.add(`theta ${at}`, fit.dispersion, wanted.theta)
      found.add(`se of log theta ${at}`, se(inputs.columns.length + 1), wanted.se_log_theta)
    }
    inputs.columns.forEach(({ name }, j) => {
      found.add(`${name} ${at}`, fit.coefficients[j], wanted.coefficients[name])
      found.add(`se ${name} ${at}`, se(j), wanted.se[name])
    })
    for (const [name, mode] of Object.entries(wanted.modes ?? {})) {
      const g = rows.names.indexOf(name)
      // modes are found to 1e-6 in the files
      found.add(`mode of ${name} ${at}`, fit.modes[g], mode, { rel: 1e-5, abs: 1e-5 })
      found.add(`its sd ${at}`, fit.modeSds[g], wanted.mode_sd?.[name], { rel: 1e-5, abs: 1e-5 })
    }
    last = fit.logLik
  }
  if (expected.glm_log_likelihood !== undefined && family !== "negative binomial") {
    const plain = fitGlm(rows, family)
    if (plain.kind !== "fit") throw new Error("The model without intercepts was not fitted.")
    found.add("log-likelihood without intercepts", plain.logLik, expected.glm_log_likelihood)
    const ratio = 2 * (last - plain.logLik)
    found.add("likelihood ratio of the intercepts", ratio, expected.lr_random_effect)
    // halved: the spread lies at the boundary of what it can be (Self & Liang 1987)
    found.add("its p", chiSquaredUpper(ratio, 1) / 2, expected.lr_p_boundary, { rel: 1e-4, abs: 1e-12 })
  }
  expect(found.sentences).toEqual([])
})

test("intercepts without spread leave the plain model, and say so", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/05-zero-variance.json",
    modelInputs,
    z.object({ sd: number, coefficients: byName, se: byName, log_likelihood: number }),
  )
  const fit = mustFit(clusteredRowsOf(inputs), familyOf(inputs), { nodes: 15 })
  expect(fit.kind).toBe("boundary")
  expect(fit.sd).toBe(expected.sd)
  expect(fit.modes.every((mode) => mode === 0)).toBe(true)
  const found = new Differences(tolerance)
  found.add("log-likelihood", fit.logLik, expected.log_likelihood)
  inputs.columns.forEach(({ name }, j) => {
    found.add(name, fit.coefficients[j], expected.coefficients[name])
    const variance = fit.covariance?.data[j * (inputs.columns.length + 1)]
    found.add(`se ${name}`, Math.sqrt(variance ?? NaN), expected.se[name])
  })
  expect(found.sentences).toEqual([])
})

test("profile intervals of a model with random intercepts agree with R, the spread's too", () => {
  const model = loadCase("stats/05-binomial-cbpp.json", modelInputs, z.unknown())
  const { inputs, expected, tolerance } = loadCase(
    "stats/16-profile-cbpp.json",
    z.object({ nodes: number }),
    z.object({ intervals: z.record(z.string(), z.tuple([number, number])) }),
  )
  const rows = clusteredRowsOf(model.inputs)
  const { nodes } = inputs
  const fit = mustFit(rows, "binomial logit", { nodes })
  const cut = normalQuantile(0.975) ** 2
  const found = new Differences(tolerance)
  const size = model.inputs.columns.length
  model.inputs.columns.forEach(({ name }, j) => {
    const held = holding(
      rows,
      Float64Array.from(model.inputs.columns, (_, k) => (k === j ? 1 : 0)),
    )
    const ends = profileInterval(
      {
        estimate: fit.coefficients[j] ?? NaN,
        se: Math.sqrt(fit.covariance?.data[j * (size + 2)] ?? NaN),
        logLik: fit.logLik,
        heldAt: (value) =>
          mustFit({ ...rows, ...held(value) }, "binomial logit", { nodes, covariance: false }).logLik,
      },
      cut,
    )
    found.add(`low ${name}`, ends.low, expected.intervals[name]?.[0])
    found.add(`high ${name}`, ends.high, expected.intervals[name]?.[1])
  })
  const spread = profileInterval(
    {
      estimate: fit.sd,
      se: 0.2,
      logLik: fit.logLik,
      heldAt: (sd) => mustFit(rows, "binomial logit", { nodes, covariance: false, sd }).logLik,
    },
    cut,
  )
  found.add("low sd", spread.low, expected.intervals["sd"]?.[0])
  found.add("high sd", spread.high, expected.intervals["sd"]?.[1])
  expect(found.sentences).toEqual([])
})

// Yields of dyestuff from six batches: Davies & Goldsmith (1972) Statistical Methods in Research and Production, table 6.3 (data
// from memory). In a balanced one-way layout the maximum-likelihood estimates have a closed form: sigma^2 is the mean square
// within, sd^2 is ((1 - 1/a) times the mean square between, less sigma^2)/n. glmmTMB 1.1.5 gives the same, and the log-likelihood.
test("a normal model with random intercepts agrees with its closed form and with glmmTMB", () => {
  const batches = [
    [1545, 1440, 1440, 1520, 1580],
    [1540, 1555, 1490, 1560, 1495],
    [1595, 1550, 1605, 1510, 1560],
    [1445, 1440, 1595, 1465, 1545],
    [1595, 1630, 1515, 1635, 1625],
    [1520, 1455, 1450, 1480, 1445],
  ]
  const n = 30
  const rows: ClusteredRows = {
    x: fromColumns([new Float64Array(n).fill(1)], n),
    y: Float64Array.from(batches.flat()),
    cluster: Int32Array.from({ length: n }, (_, i) => Math.floor(i / 5)),
    clusters: 6,
  }
  const mean = (values: number[]): number => values.reduce((a, b) => a + b, 0) / values.length
  const grand = mean(batches.flat())
  const within =
    batches.flatMap((batch) => batch.map((y) => (y - mean(batch)) ** 2)).reduce((a, b) => a + b) / 24
  const between = (5 * batches.map((batch) => (mean(batch) - grand) ** 2).reduce((a, b) => a + b)) / 5
  for (const nodes of [1, 15]) {
    const fit = mustFit(rows, "gaussian", { nodes })
    const found = new Differences({ rel: 1e-6, abs: 0 }) // the likelihood is flat to a millionth of a standard error
    found.add("mean", fit.coefficients[0], grand)
    found.add("sigma", fit.dispersion, Math.sqrt(within))
    found.add("sd", fit.sd, Math.sqrt(((5 / 6) * between - within) / 5))
    found.add("log-likelihood, by glmmTMB", fit.logLik, -163.663529941)
    found.add("sd, by glmmTMB", fit.sd, 37.26035045)
    found.add("se of the mean, by glmmTMB", Math.sqrt(fit.covariance?.data[0] ?? NaN), 17.694553)
    expect(found.sentences).toEqual([])
  }
})

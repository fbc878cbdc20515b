// Cases in cases/stats, computed with R 4.2.2 and MASS 7.3.58.2, polished by Newton steps; sources, data, tolerances are in the
// files. Standard errors are those of the observed information in coefficients and log theta ("se_joint"); glm.nb's take theta
// for known and differ by up to 8%. Overdispersion tests and robust covariances are not built.
import { expect, test } from "vitest"
import { z } from "zod"
import { chiSquaredUpper } from "../../core/stats/distributions/chiSquared.ts"
import { normalQuantile } from "../../core/stats/distributions/normal.ts"
import { type NegativeBinomialFit, fitNegativeBinomial } from "../../core/stats/glm/fitNegativeBinomial.ts"
import { holding, profileInterval } from "../../core/stats/inference/profileInterval.ts"
import type { Rows } from "../../core/stats/likelihood/rows.ts"
import { independentColumns } from "../../core/stats/matrix/rank.ts"
import { Differences, loadCase, number } from "./case.ts"
import { modelInputs, numericColumn, readTable, rowsOf, textColumn, withoutTerm } from "./modelCase.ts"
import { selectColumns, fromColumns } from "../../core/stats/matrix/matrix.ts"

const byName = z.record(z.string(), number)

function mustFit(rows: Rows): NegativeBinomialFit {
  const fit = fitNegativeBinomial(rows)
  if (fit.kind !== "fit" && fit.kind !== "boundary") throw new Error(`The model was not fitted: ${fit.kind}.`)
  return fit
}

test.each(["04-nb-articles", "04-nb-owls", "04-nb-quine"])(
  "a negative binomial model agrees with R: %s",
  (id) => {
    const { inputs, expected, tolerance } = loadCase(
      `stats/${id}.json`,
      modelInputs,
      z.object({
        coefficients: byName,
        theta: number,
        se_theta_joint: number,
        se_joint: byName,
        log_likelihood: number,
        poisson_log_likelihood: number,
        likelihood_ratio_drop_theta_refitted: z.record(
          z.string(),
          z.object({ lr: number, df: number, p: number, theta: number }),
        ),
        profile_interval_95_theta_profiled: z.record(z.string(), z.tuple([number, number])),
      }),
    )
    const rows = rowsOf(inputs)
    const fit = mustFit(rows)
    const size = fit.covariance.cols
    const found = new Differences(tolerance)
    found.add("log-likelihood", fit.logLik, expected.log_likelihood)
    found.add("Poisson log-likelihood", fit.poissonLogLik, expected.poisson_log_likelihood)
    found.add("theta", fit.theta, expected.theta)
    const seLogTheta = Math.sqrt(fit.covariance.data[size * size - 1] ?? NaN)
    found.add("se of theta", fit.theta * seLogTheta, expected.se_theta_joint)
    inputs.columns.forEach(({ name }, j) => {
      const estimate = fit.coefficients[j] ?? NaN
      const se = Math.sqrt(fit.covariance.data[j + size * j] ?? NaN)
      found.add(`coefficient ${name}`, estimate, expected.coefficients[name])
      found.add(`se ${name}`, se, expected.se_joint[name])
      const held = holding(
        rows,
        Float64Array.from(inputs.columns, (_, k) => (k === j ? 1 : 0)),
      )
      const ends = profileInterval(
        { estimate, se, logLik: fit.logLik, heldAt: (value) => mustFit(held(value)).logLik },
        normalQuantile(0.975) ** 2,
      )
      const wanted = expected.profile_interval_95_theta_profiled[name]
      // root found on a likelihood known to about 1e-10 of itself
      found.add(`profile low ${name}`, ends.low, wanted?.[0], { rel: 1e-5, abs: 1e-6 })
      found.add(`profile high ${name}`, ends.high, wanted?.[1], { rel: 1e-5, abs: 1e-6 })
    })
    for (const [term, { lr, df, p, theta }] of Object.entries(
      expected.likelihood_ratio_drop_theta_refitted,
    )) {
      const without = mustFit(rowsOf(inputs, withoutTerm(inputs, term)))
      const ratio = 2 * (fit.logLik - without.logLik)
      found.add(`likelihood ratio without ${term}`, ratio, lr, { rel: 1e-5, abs: 1e-6 })
      found.add(`p of ${term}`, chiSquaredUpper(ratio, df), p, { rel: 1e-5, abs: 1e-9 })
      found.add(`theta without ${term}`, without.theta, theta, { rel: 1e-5, abs: 0 })
    }
    expect(found.sentences).toEqual([])
  },
)

test("without spread beyond the Poisson's, theta is infinite and the fit the Poisson's", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/04-nb-theta-infinite.json",
    modelInputs,
    z.object({
      log_likelihood: number,
      coefficients: byName,
      theta: z.literal("Infinity"),
    }),
  )
  const fit = mustFit(rowsOf(inputs))
  expect(fit.kind).toBe("boundary")
  expect(fit.theta).toBe(Infinity)
  const found = new Differences(tolerance)
  found.add("log-likelihood", fit.logLik, expected.log_likelihood)
  inputs.columns.forEach(({ name }, j) => found.add(name, fit.coefficients[j], expected.coefficients[name]))
  expect(found.sentences).toEqual([])
})

test("columns that earlier ones make up are left out, and the rest fits as in R", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/04-nb-quine-full.json",
    z.object({ data: z.string(), response: z.string(), columns: z.array(z.string()) }),
    z.object({
      dropped: z.array(z.string()),
      rank: number,
      theta: number,
      se_theta: number,
      log_likelihood: number,
      coefficients: byName,
    }),
  )
  const table = readTable(inputs.data)
  // a column's name joins factors and levels: "EthN:AgeF1" is 1 where Eth is N and Age is F1
  const factors = ["Eth", "Sex", "Age", "Lrn"]
  const all = fromColumns(
    inputs.columns.map((name) => {
      const values = new Float64Array(table.rows).fill(1)
      for (const part of name === "(Intercept)" ? [] : name.split(":")) {
        const factor = factors.find((known) => part.startsWith(known)) ?? ""
        textColumn(table, factor).forEach((level, i) => {
          if (level !== part.slice(factor.length)) values[i] = 0
        })
      }
      return values
    }),
    table.rows,
  )
  const { kept, dependent } = independentColumns(all)
  expect(kept.length).toBe(expected.rank)
  expect(dependent.map(({ column }) => inputs.columns[column])).toEqual(expected.dropped)
  const fit = mustFit({ x: selectColumns(all, kept), y: numericColumn(table, inputs.response) })
  const found = new Differences(tolerance)
  found.add("theta", fit.theta, expected.theta)
  found.add("log-likelihood", fit.logLik, expected.log_likelihood)
  kept.forEach((column, at) => {
    const name = inputs.columns[column] ?? ""
    found.add(name, fit.coefficients[at], expected.coefficients[name])
  })
  expect(found.sentences).toEqual([])
})

// Cases in cases/stats, computed with R 4.2.2; sources, data and tolerances are in the files. The model and CR1 variances of
// 07-* are not built: the delete-cluster jackknife takes their place.
import { expect, test } from "vitest"
import { z } from "zod"
import type { ClusteredRows } from "../../core/stats/likelihood/rows.ts"
import {
  type ConditionalFit,
  conditionalChanges,
  conditionalPoisson,
} from "../../core/stats/strata/conditionalPoisson.ts"
import { clustersHolding } from "../../core/stats/strata/clustersHolding.ts"
import { logGamma } from "../../core/stats/special.ts"
import { withinContrast } from "../../core/stats/strata/withinContrast.ts"
import { Differences, loadCase, number, numbers } from "./case.ts"
import { clusteredRowsOf, designOf, modelInputs, readTable, textColumn } from "./modelCase.ts"

const byName = z.record(z.string(), number)

function mustFit(rows: ClusteredRows): ConditionalFit {
  const fit = conditionalPoisson(rows)
  if (fit.kind !== "fit") throw new Error(`The model was not fitted: ${fit.kind}.`)
  return fit
}

test.each(["07-conditional-poisson-owls", "07-conditional-poisson-ticks", "07-conditional-two-arms"])(
  "a Poisson model conditioned on cluster totals agrees with R: %s",
  (id) => {
    const { inputs, expected, tolerance } = loadCase(
      `stats/${id}.json`,
      modelInputs,
      z.object({ coefficients: byName, conditional_log_likelihood: number }),
    )
    const columns = inputs.columns.filter(({ product_of }) => product_of.length > 0)
    const rows = {
      ...clusteredRowsOf(inputs),
      x: designOf(
        readTable(inputs.data),
        columns.filter(({ name }) => name in expected.coefficients),
      ),
    }
    const fit = mustFit(rows)
    const found = new Differences(tolerance)
    // the files' log-likelihood has the multinomial coefficients in, which the estimates do not need
    const totals = new Float64Array(rows.clusters)
    rows.y.forEach((y, i) => {
      totals[rows.cluster[i] ?? 0] = (totals[rows.cluster[i] ?? 0] ?? 0) + y
    })
    const logFactorials = (counts: Float64Array): number =>
      counts.reduce((sum, n) => sum + logGamma(n + 1), 0)
    const coefficients = logFactorials(totals) - logFactorials(rows.y)
    found.add("log-likelihood", fit.logLik + coefficients, expected.conditional_log_likelihood)
    Object.keys(expected.coefficients).forEach((name, j) =>
      found.add(name, fit.coefficients[j], expected.coefficients[name]),
    )
    expect(found.sentences).toEqual([])
  },
)

const policyInputs = z.object({
  data: z.string(),
  stratum: z.string(),
  jackknife: z.string(),
  columns: modelInputs.shape.columns,
  factors: z.record(z.string(), z.array(z.string())),
  contrast: z.tuple([z.string(), z.string()]),
})

test.each(["17-same-trip", "17-same-stop"])(
  "a ratio within strata with its delete-trip jackknife agrees with R: %s",
  (id) => {
    const { inputs, expected, tolerance } = loadCase(
      `stats/${id}.json`,
      policyInputs,
      z.object({
        coefficients: byName,
        conditional_log_likelihood: number,
        informative_trips: number,
        trips_with_both: number,
        df: number,
        log_ratio: number,
        se_one_step: number,
        interval: numbers,
        change_one_step: numbers,
      }),
    )
    const table = readTable(inputs.data)
    const model = modelInputs.parse({
      ...inputs,
      response: "fish",
      offset: "log_h",
      cluster: inputs.stratum,
    })
    const rows = { ...clusteredRowsOf(model), x: designOf(table, inputs.columns) }
    const trips = textColumn(table, inputs.jackknife)
    const tripNames = [...new Set(trips)].sort()
    const trip = Int32Array.from(trips, (name) => tripNames.indexOf(name))
    const fit = mustFit(rows)
    const found = new Differences(tolerance)
    found.add("log-likelihood", fit.logLik, expected.conditional_log_likelihood)
    inputs.columns.forEach(({ name }, j) => found.add(name, fit.coefficients[j], expected.coefficients[name]))
    const changes = conditionalChanges(rows, fit.coefficients, trip, tripNames.length)
    if (changes === null) throw new Error("Each trip can be left out.")
    const levels = inputs.factors["lure"] ?? []
    const level = Int32Array.from(textColumn(table, "lure"), (name) => levels.indexOf(name))
    const wanted = inputs.columns.findIndex(({ name }) => name === `lure${inputs.contrast[0]}`)
    const contrast = Float64Array.from(inputs.columns, (_, j) => (j === wanted ? 1 : 0))
    const holding = clustersHolding({ level, y: rows.y, stratum: rows.cluster, cluster: trip })
    const [a, b] = inputs.contrast.map((name) => levels.indexOf(name))
    expect(holding.informative()).toBe(expected.informative_trips)
    expect(holding.both(a ?? -1, b ?? -1)).toBe(expected.trips_with_both)
    const got = withinContrast(
      rows,
      fit,
      contrast,
      { a: a ?? -1, b: b ?? -1, holding },
      { cluster: trip, clusters: tripNames.length },
    )
    if (got === null) throw new Error("Both levels are held by many trips.")
    expect(got.df).toBe(expected.df)
    found.add("log ratio", got.estimate, expected.log_ratio)
    found.add("se", got.se, expected.se_one_step)
    found.add("low", Math.exp(got.low), expected.interval[0])
    found.add("high", Math.exp(got.high), expected.interval[1])
    tripNames.forEach((name, g) =>
      found.add(
        `change without ${name}`,
        changes.data[g + changes.rows * wanted],
        expected.change_one_step[g],
      ),
    )
    expect(found.sentences).toEqual([])
  },
)

test("a column that is constant within every stratum is refused by its place", () => {
  const { inputs } = loadCase("stats/17-same-trip.json", policyInputs, z.unknown())
  const table = readTable(inputs.data)
  const model = modelInputs.parse({ ...inputs, response: "fish", offset: "log_h", cluster: "trip" })
  const purpose = { name: "guided", product_of: [{ factor: "purpose", level: "guided" }] }
  const rows = { ...clusteredRowsOf(model), x: designOf(table, [...inputs.columns, purpose]) }
  expect(conditionalPoisson(rows)).toEqual({ kind: "constant", columns: [inputs.columns.length] })
})

// Longley's data, certified to 15 digits: NIST Statistical Reference Datasets, Linear Regression. The tolerance is the file's.
import { expect, test } from "vitest"
import { z } from "zod"
import { leastSquares } from "../../core/stats/glm/leastSquares.ts"
import { fromColumns } from "../../core/stats/matrix/matrix.ts"
import { Differences, loadCase, number, numbers } from "./case.ts"
import { numericColumn, readTable } from "./modelCase.ts"

test("least squares holds NIST's digits on a badly conditioned design", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/04-lm-longley.json",
    z.object({ data: z.string(), response: z.string(), columns: z.array(z.string()) }),
    z.object({ coefficients: numbers, se: numbers, residual_sd: number }),
  )
  const table = readTable(inputs.data)
  const columns = inputs.columns.map((name) =>
    name === "(Intercept)" ? new Float64Array(table.rows).fill(1) : numericColumn(table, name),
  )
  const fit = leastSquares({ x: fromColumns(columns, table.rows), y: numericColumn(table, inputs.response) })
  if (fit.kind !== "fit") throw new Error("The model was not fitted.")
  const found = new Differences(tolerance)
  found.add("residual sd", fit.sigma, expected.residual_sd)
  inputs.columns.forEach((name, j) => {
    found.add(name, fit.coefficients[j], expected.coefficients[j])
    found.add(`se ${name}`, Math.sqrt(fit.covariance.data[j + columns.length * j] ?? NaN), expected.se[j])
  })
  expect(found.sentences).toEqual([])
})

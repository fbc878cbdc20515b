import { expect, test } from "vitest"
import { z } from "zod"
import { makeDesign } from "../../core/stats/design/design.ts"
import { standardisedCurve } from "../../core/stats/inference/curve.ts"
import { tCritical } from "../../core/stats/confidence.ts"
import { fitMixed } from "../../core/stats/mixed/fitMixed.ts"
import { Differences, loadCase, numbers } from "./case.ts"
import { numericColumn, readTable } from "./modelCase.ts"

// cases/stats/08-spline-fit.json: fitted values and errors of a natural spline in R 4.2.2 (data MASS::mcycle). A cluster a row
// leaves no spread to find, so the model is the plain one; its errors take sigma by maximum likelihood, R's on the degrees of
// freedom left.
test("a curve along a spline is the spline's own, with its band", () => {
  const { inputs, expected } = loadCase(
    "stats/08-spline-fit.json",
    z.object({ data: z.string(), knots: numbers, boundary_knots: numbers, new_x: numbers }),
    z.object({ fit: numbers, se: numbers }),
  )
  const table = readTable(inputs.data)
  const x = numericColumn(table, "x")
  const y = numericColumn(table, "y")
  const [low = NaN, high = NaN] = inputs.boundary_knots
  const covariates = { rows: x.length, values: new Map([["time", x]]) }
  const design = makeDesign(
    [{ kind: "spline", covariate: "time", knots: [low, ...inputs.knots, high] }],
    covariates,
  )
  const rows = { x: design.x, y, cluster: new Int32Array(x.length), clusters: 1 }
  const fit = fitMixed(rows, "gaussian", { nodes: 1 })
  if (fit.kind !== "boundary") throw new Error("One cluster of all rows has no spread between clusters.")
  const points = standardisedCurve(
    fit,
    { design, covariates, weights: new Float64Array(x.length).fill(1) },
    { covariates: [{ name: "time", at: (x) => x }], grid: inputs.new_x },
    { df: 50, changes: null, clusters: 1 },
  )
  const found = new Differences({ rel: 1e-7, abs: 1e-6 })
  const shrunk = Math.sqrt((x.length - design.names.length) / x.length)
  points.forEach(({ mean, low: least, high: most }, i) => {
    found.add(`fit at ${inputs.new_x[i]}`, mean, expected.fit[i])
    found.add(
      `se at ${inputs.new_x[i]}`,
      (most - least) / 2 / tCritical(50),
      (expected.se[i] ?? NaN) * shrunk,
    )
  })
  expect(found.sentences).toEqual([])
})

// Cases in cases/stats, computed with R 4.2.2; sources, data and tolerances are in the files.
import { expect, test } from "vitest"
import { z } from "zod"
import { type Block, codeBlock } from "../../core/stats/design/block.ts"
import { makeDesign } from "../../core/stats/design/design.ts"
import { splineColumns } from "../../core/stats/design/naturalSpline.ts"
import { fitGlm } from "../../core/stats/glm/fitGlm.ts"
import { leastSquares } from "../../core/stats/glm/leastSquares.ts"
import { linearContrast } from "../../core/stats/inference/contrast.ts"
import { fromColumns } from "../../core/stats/matrix/matrix.ts"
import { independentColumns } from "../../core/stats/matrix/rank.ts"
import { Differences, loadCase, number, numbers } from "./case.ts"
import { numericColumn, readTable } from "./modelCase.ts"

const ones = (n: number): Float64Array => new Float64Array(n).fill(1)

test("treatment contrasts are coded as in R, with any level for reference", () => {
  const { inputs, expected } = loadCase(
    "stats/08-contrasts.json",
    z.object({ levels: z.array(z.string()), values: z.array(z.string()) }),
    z.object({ treatment: z.array(numbers), treatment_reference_popper: z.array(numbers) }),
  )
  const codes = Float64Array.from(inputs.values, (value) => inputs.levels.indexOf(value))
  const covariates = { rows: codes.length, values: new Map([["lure", codes]]) }
  for (const [reference, wanted] of [
    [0, expected.treatment],
    [inputs.levels.indexOf("popper"), expected.treatment_reference_popper],
  ] as const) {
    const block: Block = { kind: "categorical", covariate: "lure", levels: inputs.levels, reference }
    const { columns } = codeBlock(block, covariates)
    const rows = inputs.values.map((_, i) => [1, ...columns.map((column) => column[i])])
    expect(rows).toEqual(wanted.map((row) => [...row]))
  }
})

/** Whether each of R's columns is a combination of an intercept and ours: what is left of it, at most. */
function outsideSpan(own: Float64Array[], theirs: Float64Array[]): number {
  const rows = own[0]?.length ?? 0
  const x = fromColumns([ones(rows), ...own], rows)
  return Math.max(
    ...theirs.map((y) => {
      const fit = leastSquares({ x, y })
      if (fit.kind !== "fit") throw new Error("The basis is not independent.")
      return Math.sqrt(fit.residualSumOfSquares / y.reduce((sum, value) => sum + value * value, 0))
    }),
  )
}

test.each(["08-ns-1knot", "08-ns-3knots"])("a natural spline spans the space of R's ns: %s", (id) => {
  const { inputs, expected } = loadCase(
    `stats/${id}.json`,
    z.object({ x: numbers, knots: numbers, boundary_knots: numbers }),
    z.object({ basis: z.array(numbers) }),
  )
  const [low = NaN, high = NaN] = inputs.boundary_knots
  const own = splineColumns(inputs.x, [low, ...inputs.knots, high])
  const theirs = Array.from({ length: own.length }, (_, j) =>
    Float64Array.from(expected.basis, (row) => row[j] ?? NaN),
  )
  expect(theirs.every((column) => column.every(Number.isFinite))).toBe(true)
  // another basis of the same space: rounding is all that is left
  expect(outsideSpan(own, theirs)).toBeLessThan(1e-11)
})

test("fitted values of a spline regression and their errors agree with R, beyond the data too", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/08-spline-fit.json",
    z.object({ data: z.string(), knots: numbers, boundary_knots: numbers, new_x: numbers }),
    z.object({ fit: numbers, se: numbers, residual_ss: number, df_residual: number }),
  )
  const table = readTable(inputs.data)
  const [low = NaN, high = NaN] = inputs.boundary_knots
  const knots = [low, ...inputs.knots, high]
  const design = (x: Float64Array) => fromColumns([ones(x.length), ...splineColumns(x, knots)], x.length)
  const fit = leastSquares({ x: design(numericColumn(table, "x")), y: numericColumn(table, "y") })
  if (fit.kind !== "fit") throw new Error("The model was not fitted.")
  const found = new Differences(tolerance)
  found.add("residual sum of squares", fit.residualSumOfSquares, expected.residual_ss)
  expect(fit.degreesOfFreedom).toBe(expected.df_residual)
  const at = design(inputs.new_x)
  inputs.new_x.forEach((x, i) => {
    const row = Float64Array.from({ length: at.cols }, (_, j) => at.data[i + at.rows * j] ?? NaN)
    const { estimate, se } = linearContrast(row, fit.coefficients, fit.covariance, 100)
    found.add(`fit at ${x}`, estimate, expected.fit[i])
    found.add(`se at ${x}`, se, expected.se[i])
  })
  expect(found.sentences).toEqual([])
})

test("a sine and a cosine fit a yearly cycle as in R", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/08-cyclic.json",
    z.object({ month: numbers, deaths: numbers }),
    z.object({ coefficients: numbers, vcov: z.array(numbers) }),
  )
  const angle = inputs.month.map((month) => (2 * Math.PI * (month - 1)) / 12)
  const { x } = makeDesign([{ kind: "cyclic", covariate: "year" }], {
    rows: angle.length,
    values: new Map([["year", angle]]),
  })
  const fit = fitGlm({ x, y: inputs.deaths }, "poisson")
  if (fit.kind !== "fit") throw new Error("The model was not fitted.")
  const found = new Differences(tolerance)
  expected.coefficients.forEach((value, j) => {
    found.add(`coefficient ${j}`, fit.coefficients[j], value)
    expected.vcov[j]?.forEach((covariance, k) =>
      found.add(`covariance ${j}, ${k}`, fit.covariance.data[j + 3 * k], covariance),
    )
  })
  expect(found.sentences).toEqual([])
})

test("columns that depend on earlier ones are found as by R's lm", () => {
  const { inputs, expected } = loadCase(
    "stats/08-rank.json",
    z.object({ matrices: z.array(z.array(numbers)) }),
    z.object({ tolerance_1e_7: z.array(z.object({ rank: number, dropped: numbers })) }),
  )
  inputs.matrices.forEach((rows, at) => {
    const cols = rows[0]?.length ?? 0
    const x = fromColumns(
      Array.from({ length: cols }, (_, j) => Float64Array.from(rows, (row) => row[j] ?? NaN)),
      rows.length,
    )
    const { kept, dependent } = independentColumns(x)
    const wanted = expected.tolerance_1e_7[at]
    expect(kept.length).toBe(wanted?.rank)
    expect(dependent.map(({ column }) => column)).toEqual([...(wanted?.dropped ?? [])])
    for (const { column, of } of dependent) {
      // what is said to make up the column does, to its tolerance
      rows.forEach((row) => {
        const made = of.reduce((sum, part) => sum + part.coefficient * (row[part.column] ?? NaN), 0)
        expect(Math.abs(made - (row[column] ?? NaN))).toBeLessThan(1e-5)
      })
    }
  })
})

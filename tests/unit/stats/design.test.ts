import { expect, test } from "vitest"
import type { Block } from "../../../core/stats/design/block.ts"
import { codeRows, makeDesign } from "../../../core/stats/design/design.ts"
import { knotsAt } from "../../../core/stats/design/naturalSpline.ts"
import { column } from "../../../core/stats/matrix/matrix.ts"

const covariates = (values: Record<string, number[]>) => ({
  rows: Object.values(values)[0]?.length ?? 0,
  values: new Map(Object.entries(values).map(([name, list]) => [name, Float64Array.from(list)])),
})

const lure: Block = { kind: "categorical", covariate: "lure", levels: ["jig", "cork", "spoon"], reference: 0 }
const purpose: Block = { kind: "categorical", covariate: "purpose", levels: ["own", "guided"], reference: 0 }

test("a column that others make up is left out, and the others are named with their shares", () => {
  const design = makeDesign(
    [lure, purpose],
    // guided trips are exactly those with cork or spoon
    covariates({ lure: [0, 0, 1, 1, 2, 2], purpose: [0, 0, 1, 1, 1, 1] }),
  )
  expect(design.names).toEqual(["intercept", "lure cork", "lure spoon"])
  expect(design.aliased).toHaveLength(1)
  expect(design.aliased[0]?.name).toBe("purpose guided")
  expect(design.aliased[0]?.of.map((part) => [part.name, Math.round(part.coefficient * 1e6) / 1e6])).toEqual([
    ["lure cork", 1],
    ["lure spoon", 1],
  ])
  expect(design.spans).toEqual([
    { name: "lure", from: 1, to: 3 },
    { name: "purpose", from: 3, to: 3 },
  ])
})

test("a level that no row has gives a column of zeros, left out for that", () => {
  const design = makeDesign([lure], covariates({ lure: [0, 1, 0, 1] }))
  expect(design.aliased).toEqual([{ name: "lure spoon", of: [] }])
})

test("other rows are coded by the knots and levels of the first", () => {
  const water = Array.from({ length: 40 }, (_, i) => 10 + i / 2)
  const knots = knotsAt(Float64Array.from(water), 3)
  if (knots === null) throw new Error("Forty different values have knots.")
  const blocks: Block[] = [
    { kind: "spline", covariate: "water", knots },
    lure,
    { kind: "interaction", of: [lure, { kind: "numeric", covariate: "water" }] },
  ]
  const values = { water, lure: water.map((_, i) => i % 3) }
  const design = makeDesign(blocks, covariates(values))
  expect(design.names).toContain("lure spoon x water")
  const again = codeRows(design, covariates({ water: water.slice(5, 7), lure: [2, 0] }))
  const same = codeRows(design, covariates(values))
  expect(same.data).toEqual(design.x.data)
  for (let j = 0; j < again.cols; j++) {
    const whole = column(design.x, j)
    // row 5 has lure 2 (spoon) already; row 6 has lure 0
    expect([...column(again, j)]).toEqual([whole[5], whole[6]])
  }
})

test("ordered levels are coded by polynomials that are orthogonal to each other and to the intercept", () => {
  const levels = ["clear", "slightly stained", "stained", "muddy"]
  const design = makeDesign(
    [{ kind: "ordered", covariate: "visibility", levels, degree: 2 }],
    covariates({ visibility: [0, 1, 2, 3] }),
  )
  // contr.poly(4) of R, from memory: linear -3 -1 1 3 over the root of 20, quadratic 1 -1 -1 1 over 2
  column(design.x, 1).forEach((value, i) => expect(value * Math.sqrt(20)).toBeCloseTo(2 * i - 3, 12))
  column(design.x, 2).forEach((value, i) => expect(value * 2).toBeCloseTo(i === 0 || i === 3 ? 1 : -1, 12))
})

test("knots need three different values; repeated quantiles make fewer", () => {
  expect(knotsAt(Float64Array.of(1, 1, 2, 2), 3)).toBeNull()
  expect(knotsAt(Float64Array.of(0, 0, 0, 0, 3, 4, 5, 9), 3)).toEqual([0, expect.any(Number), 9])
})

test("unknown values, missing covariates and foreign levels are refused with their place", () => {
  expect(() => makeDesign([lure], covariates({ water: [1, 2] }))).toThrow("There is no covariate lure.")
  expect(() => makeDesign([lure], covariates({ lure: [0, NaN] }))).toThrow("row 1 has NaN")
  expect(() => makeDesign([lure], covariates({ lure: [0, 3] }))).toThrow("from 0 to 2; a row has 3")
  expect(() =>
    makeDesign([{ kind: "spline", covariate: "water", knots: [1, 1, 2] }], covariates({ water: [1, 2] })),
  ).toThrow("rising knots")
})

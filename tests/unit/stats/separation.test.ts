import { expect, test } from "vitest"
import { fitGlm } from "../../../core/stats/glm/fitGlm.ts"
import { cannotSeparate } from "../../../core/stats/glm/separation.ts"
import { fromColumns } from "../../../core/stats/matrix/matrix.ts"
import { fitMixed } from "../../../core/stats/mixed/fitMixed.ts"
import { normal, poisson, stream, uniform } from "../../../core/stats/random.ts"

/** Counts in `n` rows of three columns, the last a rare level; scarce enough that some draws are separated. */
function drawRows(seed: number, n: number) {
  const random = stream(seed, "separation")
  const rare = Float64Array.from({ length: n }, () => (uniform(random) < 0.1 ? 1 : 0))
  const x = fromColumns(
    [new Float64Array(n).fill(1), Float64Array.from({ length: n }, () => normal(random)), rare],
    n,
  )
  return { x, y: Float64Array.from({ length: n }, () => poisson(random, 0.4)) }
}

test("counts said not to be separated are not, and where they are it is not said", () => {
  const rows = Array.from({ length: 200 }, (_, seed) => drawRows(seed, 40)).filter(({ x }) =>
    x.data.subarray(80).some((value) => value === 1),
  )
  const told = rows.map((one) => ({
    sure: cannotSeparate(one, "poisson"),
    separated: fitGlm(one, "poisson").kind === "separated",
  }))
  expect(told.filter(({ sure, separated }) => sure && separated)).toEqual([])
  // both kinds were drawn
  expect(told.filter(({ sure }) => sure).length).toBeGreaterThan(50)
  expect(told.filter(({ separated }) => separated).length).toBeGreaterThan(20)
})

test("a fit that begins at a model nearby ends where one from nothing does", () => {
  const n = 600
  const random = stream(3, "near")
  const effects = Float64Array.from({ length: 60 }, () => 0.6 * normal(random))
  const { x } = drawRows(1, n)
  const cluster = Int32Array.from({ length: n }, (_, i) => i % 60)
  const y = Float64Array.from(cluster, (g, i) =>
    poisson(random, Math.exp(0.2 + (effects[g] ?? 0) + 0.3 * (x.data[n + i] ?? 0)) * (0.5 + uniform(random))),
  )
  const rows = { x, y, cluster, clusters: 60 }
  const cold = fitMixed(rows, "negative binomial", { nodes: 1 })
  const start = { coefficients: Float64Array.of(0, 0.1, 0), sd: 0.4, dispersion: 5 }
  const warm = fitMixed(rows, "negative binomial", { nodes: 1, start })
  if (cold.kind !== "fit" || warm.kind !== "fit") throw new Error("both were to be fitted")
  // a climb ends where the likelihood can rise by 1e-11 at most, two millionths of a standard error (a tenth here)
  expect(warm.logLik).toBeCloseTo(cold.logLik, 9)
  warm.coefficients.forEach((value, j) => expect(value).toBeCloseTo(cold.coefficients[j] ?? Number.NaN, 6))
})

import { expect, test } from "vitest"
import { clusterRows, type ClusteredRows, type Family } from "../../../core/stats/likelihood/rows.ts"
import { fromColumns } from "../../../core/stats/matrix/matrix.ts"
import { coefficientPieces } from "../../../core/stats/mixed/coefficientPieces.ts"
import { laplaceInformation } from "../../../core/stats/mixed/laplaceInformation.ts"
import { louisInformation } from "../../../core/stats/mixed/louis.ts"
import { marginalAt } from "../../../core/stats/mixed/marginalOfFit.ts"
import { normal, poisson, stream, uniform } from "../../../core/stats/random.ts"

const families: readonly Family[] = [
  "poisson",
  "negative binomial",
  "binomial logit",
  "binomial cloglog",
  "gaussian",
]

/** Made-up rows of twelve clusters, one of them empty and one of a single row, with values that every family can have. */
function rowsFor(family: Family): ClusteredRows {
  const random = stream(5, family)
  const n = 60
  const cluster = Int32Array.from({ length: n }, (_, i) => (i === 0 ? 11 : i % 10))
  const draw = () => Float64Array.from({ length: n }, () => uniform(random))
  const share = family.startsWith("binomial")
  const trials = Float64Array.from({ length: n }, (_, i) => 1 + (i % 4))
  const y = Float64Array.from({ length: n }, (_, i) => {
    if (family === "gaussian") return 2 + normal(random)
    const count = poisson(random, 1.3)
    return share ? Math.min(count, trials[i] ?? 1) : count
  })
  return {
    x: fromColumns([new Float64Array(n).fill(1), draw(), draw().map(Math.round)], n),
    y,
    offset: draw().map((value) => Math.log(value + 0.2)),
    weights: share ? trials : undefined,
    cluster,
    clusters: 12,
  }
}

const modelOf = (family: Family) => ({
  family,
  coefficients: Float64Array.of(0.2, -0.3, 0.4),
  sd: 0.7,
  dispersion: family === "negative binomial" ? 1.7 : family === "gaussian" ? 0.9 : null,
})

test.each(families)(
  "%s: the information of Laplace's approximation is minus its gradient's slope",
  (family) => {
    const { marginal, phi } = marginalAt(rowsFor(family), modelOf(family), 1)
    marginal.findModes(phi)
    const information = laplaceInformation(marginal, phi)
    const reach = 1e-4
    const [above, below] = [new Float64Array(phi.length), new Float64Array(phi.length)]
    for (let j = 0; j < 3; j++) {
      const at = (value: number) => phi.map((own, k) => (k === j ? own + value : own))
      marginal.evaluate(at(reach), above)
      marginal.evaluate(at(-reach), below)
      for (let i = 0; i < 3; i++)
        // central differences err by the square of their reach, some 1e-8 of entries up to 60
        expect(information.data[i + 3 * j]).toBeCloseTo(((below[i] ?? 0) - (above[i] ?? 0)) / (2 * reach), 4)
    }
  },
)

test.each(families)("%s: the clusters' scores and informations add up to those of all", (family) => {
  const rows = rowsFor(family)
  const model = modelOf(family)
  const { marginal, phi } = marginalAt(rows, model, 15)
  marginal.findModes(phi)
  const { scores, informations } = coefficientPieces(marginal, phi, 15)
  const whole = louisInformation(marginal, phi, 15)
  const size = phi.length
  for (let j = 0; j < 3; j++) {
    const ofAll = Array.from({ length: 12 }, (_, g) => scores.data[g + 12 * j] ?? 0)
    const sum = ofAll.reduce((total, value) => total + value, 0)
    expect(sum).toBeCloseTo(whole.score[j] ?? Number.NaN, 10) // only rounding is left
    for (let i = j; i < 3; i++) {
      let together = 0
      for (let g = 0; g < 12; g++) together += informations[9 * g + i + 3 * j] ?? 0
      expect(together).toBeCloseTo(whole.information.data[i + size * j] ?? Number.NaN, 10)
    }
  }
})

test("a cluster's information is that of its rows alone", () => {
  const rows = rowsFor("negative binomial")
  const model = modelOf("negative binomial")
  const all = marginalAt(rows, model, 15)
  all.marginal.findModes(all.phi)
  const informations = coefficientPieces(all.marginal, all.phi, 15).informations
  const { prepared } = all
  const alone = marginalAt(
    clusterRows(rows, (g) => g === 3),
    model,
    15,
  )
  alone.marginal.findModes(alone.phi)
  const own = coefficientPieces(alone.marginal, alone.phi, 15).informations
  const back = (blocks: Float64Array, g: number, scale: Float64Array, centre: Float64Array) => {
    // information in the original coefficients of a column: that of x = centre + scale times the standardised one
    const at = (i: number, j: number) => blocks[9 * g + i + 3 * j] ?? 0
    return [1, 2].map(
      (j) =>
        at(j, j) * (scale[j] ?? 1) ** 2 +
        2 * at(j, 0) * (scale[j] ?? 1) * (centre[j] ?? 0) +
        at(0, 0) * (centre[j] ?? 0) ** 2,
    )
  }
  const one = back(informations, 3, prepared.standardised.scale, prepared.standardised.centre)
  const other = back(own, 3, alone.prepared.standardised.scale, alone.prepared.standardised.centre)
  one.forEach((value, j) => expect(value).toBeCloseTo(other[j] ?? Number.NaN, 9)) // only rounding is left
})

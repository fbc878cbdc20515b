import type { FactorId } from "../../../shared/factors.ts"
import { comparedName } from "./comparedLevels.ts"
import type { Adjusted } from "./adjusted.ts"

/** How much of the log of a raw ratio goes along with one thing held alike, or with the trips' own good and bad days. */
export type Part = { readonly of: FactorId | "trips"; readonly log: number }

/**
 * What a difference between two levels as fished is made of by the model: each thing's weighted mean contribution to the
 * linear predictor at level a less that at b, and the same of the trips' intercepts; largest first. Weights are rod-hours,
 * trials or fish. Source: a decomposition of means, as by Oaxaca (1973) International Economic Review 14:693-709 (from
 * memory), on the scale of the linear predictor.
 */
export function explainedParts({ model, compared, held }: Adjusted, a: string, b: string): Part[] {
  const { design, fit, clustered, rows, covariates } = model
  const codes = covariates.values.get(comparedName) ?? new Float64Array()
  const [first, second] = [compared.labels.indexOf(a), compared.labels.indexOf(b)]
  const meanDifference = (valueOf: (row: number) => number): number => {
    const sums = [
      { total: 0, weight: 0 },
      { total: 0, weight: 0 },
    ]
    codes.forEach((code, i) => {
      const side = code === first ? sums[0] : b === "others" ? sums[1] : code === second ? sums[1] : undefined
      if (side === undefined) return
      side.total += (rows.weight[i] ?? 0) * valueOf(i)
      side.weight += rows.weight[i] ?? 0
    })
    const [x, y] = sums.map(({ total, weight }) => total / weight)
    return (x ?? Number.NaN) - (y ?? Number.NaN)
  }
  const parts = held.map(({ factor, blocks }): Part => {
    const spans = design.spans.filter(({ name }) =>
      blocks.some((block) => block.kind !== "interaction" && block.covariate === name),
    )
    const own = spans.flatMap(({ from, to }) => Array.from({ length: to - from }, (_, k) => from + k))
    const log = meanDifference((i) =>
      own.reduce(
        (sum, j) => sum + (fit.coefficients[j] ?? 0) * (design.x.data[i + design.x.rows * j] ?? 0),
        0,
      ),
    )
    return { of: factor, log }
  })
  parts.push({ of: "trips", log: meanDifference((i) => fit.modes[clustered.cluster[i] ?? 0] ?? 0) })
  return parts.filter(({ log }) => Number.isFinite(log)).toSorted((x, y) => Math.abs(y.log) - Math.abs(x.log))
}

import { type Matrix, zeros } from "../matrix/matrix.ts"
import { gaussHermite } from "./gaussHermite.ts"
import type { MarginalLikelihood } from "./marginalLikelihood.ts"
import { NO_SHARE, shareNodes } from "./nodeShares.ts"

/** Each cluster's part of score and observed information in the coefficients, sd and dispersion taken for known. */
export type CoefficientPieces = {
  /** A row a cluster, a column a coefficient. */
  readonly scores: Matrix
  /** Of cluster g the p x p block from g p^2, by columns. */
  readonly informations: Float64Array
}

/** As `louisInformation`, but for each cluster and in the coefficients only: X'(W - V)X, W the rows' information averaged over the
 *  intercept's distribution given the data, V the covariance of their scores over it. */
export function coefficientPieces(
  marginal: MarginalLikelihood,
  phi: Float64Array,
  nodes: number,
): CoefficientPieces {
  const { x, likelihood, start } = marginal.rows
  const { rows: n, cols: p } = x
  const quadrature = gaussHermite(nodes)
  const s = Math.exp(phi[p] ?? 0)
  marginal.setParameters(phi)
  const most = start.reduce((largest, from, g) => Math.max(largest, (start[g + 1] ?? from) - from), 0)
  const share = new Float64Array(nodes)
  const mean = new Float64Array(most)
  const weight = new Float64Array(most)
  const own = new Float64Array(most * p)
  const away = new Float64Array(most * nodes)
  const scores = zeros(marginal.clusters, p)
  const informations = new Float64Array(marginal.clusters * p * p)
  for (let g = 0; g < marginal.clusters; g++) {
    const [from, to] = [start[g] ?? 0, start[g + 1] ?? 0]
    const size = to - from
    if (size === 0) continue
    const u = marginal.modes[g] ?? 0
    const scale = Math.sqrt(2 / (marginal.curvatures[g] ?? 1))
    shareNodes(likelihood, { from, to, s, u, scale }, quadrature, share)
    mean.fill(0)
    weight.fill(0)
    for (let k = 0; k < nodes; k++) {
      const part = share[k] ?? 0
      if (part < NO_SHARE) {
        away.fill(0, size * k, size * (k + 1))
        continue
      }
      likelihood.derivatives(from, to, s * (u + scale * (quadrature.x[k] ?? 0)))
      const { score, information } = likelihood
      for (let i = 0; i < size; i++) {
        const value = score[from + i] ?? 0
        away[i + size * k] = value
        mean[i] = (mean[i] ?? 0) + part * value
        weight[i] = (weight[i] ?? 0) + part * (information[from + i] ?? 0)
      }
    }
    for (let k = 0; k < nodes; k++) {
      const root = Math.sqrt(share[k] ?? 0)
      for (let i = 0; i < size; i++) away[i + size * k] = root * ((away[i + size * k] ?? 0) - (mean[i] ?? 0))
    }
    for (let j = 0; j < p; j++) {
      let sum = 0
      for (let i = 0; i < size; i++) {
        const value = x.data[from + i + n * j] ?? 0
        own[i + size * j] = value
        sum += value * (mean[i] ?? 0)
      }
      scores.data[g + marginal.clusters * j] = sum
    }
    sandwich(own, weight, away, { size, p, nodes }, informations, g * p * p)
  }
  return { scores, informations }
}

/** Writes X'(W - A A')X into `out` from `base` on: X of `size` rows and p columns, W diagonal, A a column a node. */
function sandwich(
  x: Float64Array,
  weight: Float64Array,
  a: Float64Array,
  { size, p, nodes }: { size: number; p: number; nodes: number },
  out: Float64Array,
  base: number,
): void {
  const product = new Float64Array(size)
  for (let j = 0; j < p; j++) {
    for (let i = 0; i < size; i++) product[i] = (weight[i] ?? 0) * (x[i + size * j] ?? 0)
    for (let k = 0; k < nodes; k++) {
      let sum = 0
      for (let i = 0; i < size; i++) sum += (a[i + size * k] ?? 0) * (x[i + size * j] ?? 0)
      for (let i = 0; i < size; i++) product[i] = (product[i] ?? 0) - sum * (a[i + size * k] ?? 0)
    }
    for (let k = 0; k <= j; k++) {
      let sum = 0
      for (let i = 0; i < size; i++) sum += (x[i + size * k] ?? 0) * (product[i] ?? 0)
      out[base + k + p * j] = sum
      out[base + j + p * k] = sum
    }
  }
}

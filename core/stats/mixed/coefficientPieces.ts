import type { Matrix } from "../matrix/matrix.ts"
import { clusterSums } from "../matrix/clusterSums.ts"
import { gaussHermite } from "./gaussHermite.ts"
import type { MarginalLikelihood } from "./marginalLikelihood.ts"
import { NO_SHARE, shareNodes } from "./nodeShares.ts"

/** Each cluster's part of score and observed information in the coefficients, sd and dispersion taken for known. */
export type CoefficientPieces = {
  /** A row a cluster, a column a coefficient. */
  readonly scores: Matrix
  /** Of cluster g the lower triangle of the p x p block from g p^2, by columns. */
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
  const { score, information } = likelihood
  const quadrature = gaussHermite(nodes)
  const s = Math.exp(phi[p] ?? 0)
  marginal.setParameters(phi)
  const most = start.reduce((largest, from, g) => Math.max(largest, (start[g + 1] ?? from) - from), 0)
  const share = new Float64Array(nodes)
  const mean = new Float64Array(n)
  const weight = new Float64Array(most)
  const away = new Float64Array(most * nodes)
  const spread = new Float64Array(most * most)
  const own = new Float64Array(most * p)
  const left = new Float64Array(most)
  const right = new Float64Array(most)
  const informations = new Float64Array(marginal.clusters * p * p)
  for (let g = 0; g < marginal.clusters; g++) {
    const from = start[g] ?? 0
    const to = start[g + 1] ?? 0
    const size = to - from
    if (size === 0) continue
    const u = marginal.modes[g] ?? 0
    const scale = Math.sqrt(2 / (marginal.curvatures[g] ?? 1))
    shareNodes(likelihood, { from, to, s, u, scale }, quadrature, share)
    weight.fill(0)
    for (let k = 0; k < nodes; k++) {
      const part = share[k] ?? 0
      if (part < NO_SHARE) {
        away.fill(0, size * k, size * (k + 1))
        continue
      }
      likelihood.derivatives(from, to, s * (u + scale * (quadrature.x[k] ?? 0)))
      for (let i = 0; i < size; i++) {
        const value = score[from + i] ?? 0
        away[i + size * k] = value
        mean[from + i] = (mean[from + i] ?? 0) + part * value
        weight[i] = (weight[i] ?? 0) + part * (information[from + i] ?? 0)
      }
    }
    for (let k = 0; k < nodes; k++) {
      const root = Math.sqrt(share[k] ?? 0)
      for (let i = 0; i < size; i++)
        away[i + size * k] = root * ((away[i + size * k] ?? 0) - (mean[from + i] ?? 0))
    }
    spreadOf(weight, away, size, nodes, spread)
    for (let j = 0; j < p; j++)
      for (let i = 0; i < size; i++) own[i + size * j] = x.data[from + i + n * j] ?? 0
    sandwich(own, spread, { size, p, left, right }, informations, g * p * p)
  }
  return { scores: clusterSums(x, mean, start), informations }
}

/** Writes W - A A' into `out`: W diagonal, A of `size` rows and a column a node. */
function spreadOf(
  weight: Float64Array,
  a: Float64Array,
  size: number,
  nodes: number,
  out: Float64Array,
): void {
  for (let i = 0; i < size; i++)
    for (let l = 0; l <= i; l++) {
      let sum = i === l ? (weight[i] ?? 0) : 0
      for (let k = 0; k < nodes; k++) sum -= (a[i + size * k] ?? 0) * (a[l + size * k] ?? 0)
      out[l + size * i] = sum
      out[i + size * l] = sum
    }
}

/** Writes the lower triangle of X'MX into the block of `out` from `base` on: X of `size` rows and p columns, M symmetric. Two columns meet two at a time, as
 *  in `weightedGram`. */
function sandwich(
  x: Float64Array,
  m: Float64Array,
  { size, p, left, right }: { size: number; p: number; left: Float64Array; right: Float64Array },
  out: Float64Array,
  base: number,
): void {
  for (let j = 0; j < p; j += 2) {
    const a = size * j
    const paired = j + 1 < p
    const b = paired ? a + size : a
    for (let i = 0; i < size; i++) {
      let first = 0
      let second = 0
      for (let l = 0; l < size; l++) {
        const value = m[l + size * i] ?? 0
        first += value * (x[a + l] ?? 0)
        second += value * (x[b + l] ?? 0)
      }
      left[i] = first
      right[i] = second
    }
    for (let k = 0; k <= j; k += 2) {
      const c = size * k
      const d = k + 1 < p ? c + size : c
      let ac = 0
      let ad = 0
      let bc = 0
      let bd = 0
      for (let i = 0; i < size; i++) {
        const u = left[i] ?? 0
        const v = right[i] ?? 0
        ac += u * (x[c + i] ?? 0)
        ad += u * (x[d + i] ?? 0)
        bc += v * (x[c + i] ?? 0)
        bd += v * (x[d + i] ?? 0)
      }
      const at = base + j + p * k
      out[at] = ac
      if (k + 1 < p) out[at + p] = ad
      if (paired) {
        out[at + 1] = bc
        out[at + 1 + p] = bd
      }
    }
  }
}

import { type Matrix, mirrorUpper, weightedGram, zeros } from "../matrix/matrix.ts"
import type { MarginalLikelihood } from "./marginalLikelihood.ts"

/** Minus the Hessian, in the coefficients alone, of the Laplace approximation that `marginal` last evaluated at phi.
 *
 *  Of a cluster's rows, at the mode: w their information, v and z its first two derivatives by eta, q = s^2/c, B and D the sums of
 *  v and z. By the implicit derivative of the mode, that of log L_g by eta is score - q (v - q B w)/2, and minus its derivative
 *  diag(w + q (z - q B v)/2) + (-q + q^3 D/2 - q^4 B^2) w w' - q^2 v v'/2 + q^3 B (v w' + w v') - q^2 (z w' + w z')/2, which X
 *  carries to the coefficients. Derived here; the model as in MarginalLikelihood. */
export function laplaceInformation(marginal: MarginalLikelihood, phi: Float64Array): Matrix {
  const { x, likelihood, start } = marginal.rows
  const { rows: n, cols: p, data } = x
  const s = Math.exp(phi[p] ?? 0)
  const weight = new Float64Array(n)
  const lowRank = zeros(p, p)
  const [byW, byV, byRest] = [new Float64Array(p), new Float64Array(p), new Float64Array(p)]
  for (let g = 0; g < marginal.clusters; g++) {
    const [from, to] = [start[g] ?? 0, start[g + 1] ?? 0]
    if (from === to) continue
    const shift = s * (marginal.modes[g] ?? 0)
    likelihood.derivatives(from, to, shift)
    likelihood.bend(from, to, shift)
    const { information: w, informationSlope: v, informationBend: z } = likelihood
    const q = (s * s) / (marginal.curvatures[g] ?? 1)
    let [B, D] = [0, 0]
    for (let i = from; i < to; i++) {
      B += v[i] ?? 0
      D += z[i] ?? 0
    }
    for (let i = from; i < to; i++) weight[i] = (w[i] ?? 0) + (q * ((z[i] ?? 0) - q * B * (v[i] ?? 0))) / 2
    for (let j = 0; j < p; j++) {
      let [sumW, sumV, sumZ] = [0, 0, 0]
      for (let i = from; i < to; i++) {
        const value = data[i + n * j] ?? 0
        sumW += value * (w[i] ?? 0)
        sumV += value * (v[i] ?? 0)
        sumZ += value * (z[i] ?? 0)
      }
      byW[j] = sumW
      byV[j] = sumV
      byRest[j] =
        ((-q + (q ** 3 * D) / 2 - q ** 4 * B * B) * sumW) / 2 + q ** 3 * B * sumV - (q * q * sumZ) / 2
    }
    for (let j = 0; j < p; j++) {
      const [ownW, ownV, ownRest] = [byW[j] ?? 0, (-q * q * (byV[j] ?? 0)) / 2, byRest[j] ?? 0]
      for (let k = 0; k <= j; k++) {
        const at = k + p * j
        lowRank.data[at] =
          (lowRank.data[at] ?? 0) + ownW * (byRest[k] ?? 0) + ownRest * (byW[k] ?? 0) + ownV * (byV[k] ?? 0)
      }
    }
  }
  const information = zeros(p, p)
  weightedGram(x, weight, information)
  mirrorUpper(lowRank)
  for (let at = 0; at < p * p; at++)
    information.data[at] = (information.data[at] ?? 0) + (lowRank.data[at] ?? 0)
  return information
}

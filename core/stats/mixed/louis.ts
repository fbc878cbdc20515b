import { type Matrix, mirrorUpper, weightedGram, zeros } from "../matrix/matrix.ts"
import { gaussHermite } from "./gaussHermite.ts"
import type { MarginalLikelihood } from "./marginalLikelihood.ts"
import { NO_SHARE, shareNodes } from "./nodeShares.ts"

/** Score and observed information of a model with random intercepts in the coefficients, log sd, and the dispersion parameter
 *  if there is one. */
export type ScoreAndInformation = { readonly score: Float64Array; readonly information: Matrix }

/** Score by Fisher's identity and information by Louis' formula, both by quadrature about the modes that `marginal` last
 *  evaluated at phi: the information of rows whose intercepts were known, averaged over each intercept's distribution given
 *  the data, less the variance of their score over it. Exact but for the quadrature: take 15 nodes or more.
 *  Source: Louis (1982) JRSS B 44:226-233 (from memory). */
export function louisInformation(
  marginal: MarginalLikelihood,
  phi: Float64Array,
  nodes: number,
): ScoreAndInformation {
  const { x, likelihood, start } = marginal.rows
  const { dispersion } = likelihood
  const quadrature = gaussHermite(nodes)
  const { x: node } = quadrature
  const n = x.rows
  const p = x.cols
  const size = marginal.parameters
  const s = Math.exp(phi[p] ?? 0)
  marginal.setParameters(phi)
  const averageInformation = new Float64Array(n)
  const byShift = new Float64Array(n)
  const byDispersion = new Float64Array(n)
  const total = new Float64Array(size)
  const variance = zeros(size, size)
  const mean = new Float64Array(size)
  const vector = new Float64Array(size)
  const shares = new Float64Array(nodes)
  let [sdSd, sdDispersion, dispersionTwice] = [0, 0, 0]
  for (let g = 0; g < marginal.clusters; g++) {
    const from = start[g] ?? 0
    const to = start[g + 1] ?? 0
    if (from === to) continue
    const u = marginal.modes[g] ?? 0
    const scale = Math.sqrt(2 / (marginal.curvatures[g] ?? 1))
    shareNodes(likelihood, { from, to, s, u, scale }, quadrature, shares)
    mean.fill(0)
    for (let k = 0; k < nodes; k++) {
      const share = shares[k] ?? 0
      if (share < NO_SHARE) continue
      const shift = s * (u + scale * (node[k] ?? 0))
      likelihood.derivatives(from, to, shift)
      const { score, information } = likelihood
      let slope = 0
      let curvature = 0
      for (let i = from; i < to; i++) {
        const w = information[i] ?? 0
        slope += score[i] ?? 0
        curvature += w
        averageInformation[i] = (averageInformation[i] ?? 0) + share * w
        byShift[i] = (byShift[i] ?? 0) + share * w * shift
      }
      for (let j = 0; j < p; j++) {
        let sum = 0
        for (let i = from; i < to; i++) sum += (x.data[i + n * j] ?? 0) * (score[i] ?? 0)
        vector[j] = sum
      }
      vector[p] = shift * slope
      sdSd += share * (curvature * shift * shift - shift * slope)
      if (dispersion !== null) {
        dispersion.changes(from, to, shift)
        likelihood.logLik(from, to, shift)
        vector[p + 1] = dispersion.slope(from, to, shift)
        dispersionTwice += share * dispersion.curvature(from, to, shift)
        for (let i = from; i < to; i++) {
          const change = share * (dispersion.scoreSlope[i] ?? 0)
          byDispersion[i] = (byDispersion[i] ?? 0) + change
          sdDispersion -= change * shift
        }
      }
      for (let j = 0; j < size; j++) {
        const weighted = share * (vector[j] ?? 0)
        mean[j] = (mean[j] ?? 0) + weighted
        for (let i = 0; i <= j; i++)
          variance.data[i + size * j] = (variance.data[i + size * j] ?? 0) + weighted * (vector[i] ?? 0)
      }
    }
    for (let j = 0; j < size; j++) {
      total[j] = (total[j] ?? 0) + (mean[j] ?? 0)
      for (let i = 0; i <= j; i++) {
        const at = i + size * j
        variance.data[at] = (variance.data[at] ?? 0) - (mean[i] ?? 0) * (mean[j] ?? 0)
      }
    }
  }
  const information = assemble(x, averageInformation, byShift, byDispersion, size)
  information.data[p + size * p] = sdSd
  if (dispersion !== null) {
    information.data[p + size * (p + 1)] = sdDispersion
    information.data[p + 1 + size * (p + 1)] = dispersionTwice
  }
  for (let at = 0; at < information.data.length; at++)
    information.data[at] = (information.data[at] ?? 0) - (variance.data[at] ?? 0)
  mirrorUpper(information)
  return { score: total, information }
}

/** Upper triangle of the information averaged over the intercepts, without what concerns sd and dispersion alone. */
function assemble(
  x: Matrix,
  w: Float64Array,
  byShift: Float64Array,
  byDispersion: Float64Array,
  size: number,
): Matrix {
  const p = x.cols
  const block = zeros(p, p)
  weightedGram(x, w, block)
  const out = zeros(size, size)
  for (let j = 0; j < p; j++) {
    for (let i = 0; i <= j; i++) out.data[i + size * j] = block.data[i + p * j] ?? 0
    let shift = 0
    let dispersion = 0
    for (let i = 0; i < x.rows; i++) {
      const value = x.data[i + x.rows * j] ?? 0
      shift += value * (byShift[i] ?? 0)
      dispersion += value * (byDispersion[i] ?? 0)
    }
    out.data[j + size * p] = shift
    if (size > p + 1) out.data[j + size * (p + 1)] = -dispersion
  }
  return out
}

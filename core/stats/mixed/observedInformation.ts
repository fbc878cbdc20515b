import { cholesky, inverse } from "../matrix/cholesky.ts"
import { type Matrix, mirrorUpper, weightedGram, zeros } from "../matrix/matrix.ts"
import { clusterSums } from "../matrix/clusterSums.ts"
import { laplaceInformation } from "./laplaceInformation.ts"
import { louisInformation } from "./louis.ts"
import type { MarginalLikelihood } from "./marginalLikelihood.ts"

/** From this many nodes on, Louis' formula by the same quadrature gives the information. */
const LOUIS_NODES = 15
/** By so much of a standard error may Louis' score differ from the gradient before its information is not trusted. */
const SERVED = 1e-7

/** Minus the Hessian of the marginal log-likelihood: by Louis' formula where the quadrature serves it, which shows in the score
 *  by Fisher's identity being the gradient; of Laplace's approximation the coefficients' part in closed form; the rest by
 *  central differences of the gradient, a thousandth of a standard error to each side. */
export function observedInformation(
  marginal: MarginalLikelihood,
  phi: Float64Array,
  gradient: Float64Array,
  nodes: number,
  inverseHessian: Matrix,
): Matrix {
  if (nodes >= LOUIS_NODES) {
    marginal.findModes(phi)
    const { score, information } = louisInformation(marginal, phi, nodes)
    const served = Array.from(
      score,
      (value, j) =>
        Math.abs(value - (gradient[j] ?? 0)) * Math.sqrt(inverseHessian.data[j * (phi.length + 1)] ?? 0),
    )
    if (Math.max(...served) < SERVED) return information
  }
  const size = phi.length
  const p = marginal.rows.x.cols
  const information = zeros(size, size)
  const differenced = nodes === 1 ? p : 0
  const [above, below] = [new Float64Array(size), new Float64Array(size)]
  for (let j = differenced; j < size; j++) {
    const reach = 1e-3 * Math.sqrt(inverseHessian.data[j + size * j] ?? 1)
    const moved = phi.slice()
    moved[j] = (phi[j] ?? 0) + reach
    marginal.evaluate(moved, above)
    moved[j] = (phi[j] ?? 0) - reach
    marginal.evaluate(moved, below)
    for (let i = 0; i < size; i++)
      information.data[i + size * j] = ((below[i] ?? 0) - (above[i] ?? 0)) / (2 * reach)
  }
  for (let j = differenced; j < size; j++)
    for (let i = differenced; i < j; i++) {
      const at = i + size * j
      const mean = ((information.data[at] ?? 0) + (information.data[j + size * i] ?? 0)) / 2
      information.data[at] = mean
    }
  if (differenced > 0) {
    marginal.findModes(phi)
    const own = laplaceInformation(marginal, phi)
    for (let j = 0; j < p; j++)
      for (let i = 0; i <= j; i++) information.data[i + size * j] = own.data[i + p * j] ?? 0
  }
  mirrorUpper(information)
  return information
}

/** Inverse of an information that is nearly that of the marginal likelihood: each cluster's X'WX at the mode less what its
 *  unknown intercept takes away; 2 sum ((c - 1)/c)^2 for log sd, as for normal data; the dispersion's own. */
export function approximateInverse(marginal: MarginalLikelihood, phi: Float64Array): Matrix {
  marginal.findModes(phi)
  const { x, likelihood, start } = marginal.rows
  const p = x.cols
  const size = marginal.parameters
  const s = Math.exp(phi[p] ?? 0)
  const taken = new Float64Array(marginal.clusters)
  let [spread, dispersed] = [0, 0]
  for (let g = 0; g < marginal.clusters; g++) {
    const from = start[g] ?? 0
    const to = start[g + 1] ?? 0
    if (from === to) continue
    const c = marginal.curvatures[g] ?? 1
    const shift = s * (marginal.modes[g] ?? 0)
    likelihood.derivatives(from, to, shift)
    taken[g] = (-s * s) / c
    spread += 2 * ((c - 1) / c) ** 2
    dispersed += likelihood.dispersion?.curvature(from, to, shift) ?? 0
  }
  const [own, byClusters] = [zeros(p, p), zeros(p, p)]
  weightedGram(x, likelihood.information, own)
  weightedGram(clusterSums(x, likelihood.information, start), taken, byClusters)
  const information = zeros(size, size)
  const { data } = information
  for (let j = 0; j < p; j++)
    for (let k = 0; k < p; k++)
      data[k + size * j] = (own.data[k + p * j] ?? 0) + (byClusters.data[k + p * j] ?? 0)
  data[p + size * p] = Math.max(1, spread)
  if (size > p + 1) data[p + 1 + size * (p + 1)] = Math.max(1, Math.abs(dispersed))
  const factor = cholesky(information)
  return factor === null ? diagonalInverse(information) : inverse(factor)
}

function diagonalInverse({ cols, data }: Matrix): Matrix {
  const out = zeros(cols, cols)
  for (let j = 0; j < cols; j++) out.data[j + cols * j] = 1 / Math.max(1, Math.abs(data[j + cols * j] ?? 1))
  return out
}

import { type Matrix, fromColumns, column, weightedGram, zeros } from "../matrix/matrix.ts"
import { clusterSums } from "../matrix/clusterSums.ts"
import type { MarginalLikelihood } from "./marginalLikelihood.ts"

/** Minus the Hessian, in the coefficients alone, of the Laplace approximation at phi, whose modes `marginal` found last.
 *
 *  Of a cluster's rows, at the mode: w their information, v and z its first two derivatives by eta, q = s^2/c, B and D the sums of
 *  v and z. By the implicit derivative of the mode, that of log L_g by eta is score - q (v - q B w)/2, and minus its derivative
 *  diag(w + q (z - q B v)/2) + (-q + q^3 D/2 - q^4 B^2) w w' - q^2 v v'/2 + q^3 B (v w' + w v') - q^2 (z w' + w z')/2, which X
 *  carries to the coefficients. Derived here; the model as in MarginalLikelihood. */
export function laplaceInformation(marginal: MarginalLikelihood, phi: Float64Array): Matrix {
  const { x, likelihood, start } = marginal.rows
  const { cols: p } = x
  const { clusters } = marginal
  const s = Math.exp(phi[p] ?? 0)
  const weight = new Float64Array(x.rows)
  const [ofW, ofV, ofSquares] = [
    new Float64Array(clusters),
    new Float64Array(clusters),
    new Float64Array(clusters),
  ]
  const { information: w, informationSlope: v, informationBend: z } = likelihood
  for (let g = 0; g < clusters; g++) {
    const from = start[g] ?? 0
    const to = start[g + 1] ?? 0
    if (from === to) continue
    const shift = s * (marginal.modes[g] ?? 0)
    likelihood.derivatives(from, to, shift)
    likelihood.bend(from, to, shift)
    const q = (s * s) / (marginal.curvatures[g] ?? 1)
    let B = 0
    let D = 0
    for (let i = from; i < to; i++) {
      B += v[i] ?? 0
      D += z[i] ?? 0
    }
    for (let i = from; i < to; i++) weight[i] = (w[i] ?? 0) + (q * ((z[i] ?? 0) - q * B * (v[i] ?? 0))) / 2
    ofW[g] = (-q + (q ** 3 * D) / 2 - q ** 4 * B * B) / 2
    ofV[g] = q ** 3 * B
    ofSquares[g] = (-q * q) / 2
  }
  const byW = clusterSums(x, w, start)
  const byV = clusterSums(x, v, start)
  const rest = clusterSums(x, z, start)
  for (let at = 0; at < rest.data.length; at++) {
    const g = at % clusters
    rest.data[at] =
      (ofW[g] ?? 0) * (byW.data[at] ?? 0) +
      (ofV[g] ?? 0) * (byV.data[at] ?? 0) +
      (ofSquares[g] ?? 0) * (rest.data[at] ?? 0)
  }
  const information = zeros(p, p)
  weightedGram(x, weight, information)
  addProducts(information, byW, rest)
  const ofSlopes = zeros(p, p)
  weightedGram(byV, ofSquares, ofSlopes)
  for (let at = 0; at < p * p; at++)
    information.data[at] = (information.data[at] ?? 0) + (ofSlopes.data[at] ?? 0)
  return information
}

/** Adds A'B + B'A. */
function addProducts(to: Matrix, a: Matrix, b: Matrix): void {
  const { cols } = a
  const columns = [a, b].flatMap((one) => Array.from({ length: cols }, (_, j) => column(one, j)))
  const gram = zeros(2 * cols, 2 * cols)
  weightedGram(fromColumns(columns, a.rows), new Float64Array(a.rows).fill(1), gram)
  const product = (i: number, j: number): number => gram.data[i + 2 * cols * (cols + j)] ?? 0
  for (let j = 0; j < cols; j++)
    for (let i = 0; i < cols; i++)
      to.data[i + cols * j] = (to.data[i + cols * j] ?? 0) + product(i, j) + product(j, i)
}

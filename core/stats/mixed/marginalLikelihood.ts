import type { Likelihood } from "../likelihood/likelihood.ts"
import { type Matrix, multiply, multiplyTransposed } from "../matrix/matrix.ts"
import { type Quadrature, gaussHermite } from "./gaussHermite.ts"

/** Rows of a model in the order of their clusters: cluster g has rows start[g] to start[g + 1] - 1, perhaps none. */
export type SortedRows = {
  readonly x: Matrix
  readonly likelihood: Likelihood
  readonly offset: Float64Array | undefined
  readonly start: Int32Array
}

const MODE_STEPS = 60
const MODE_REACH = 1e-9

/** Log-likelihood of a model with a normal intercept of its own for each cluster, the intercepts integrated out by adaptive
 *  Gauss-Hermite quadrature about each cluster's mode; one node is Laplace's approximation. Its parameters phi are the
 *  coefficients, log sd of the intercepts, and the family's dispersion parameter if it has one.
 *
 *  With u standard normal, s the sd, u* the mode, c = 1 + s^2 sum w (w observed information of a row at the mode), nodes
 *  u_k = u* + sqrt(2/c) x_k: log L_g = log sum_k exp(l(s u_k) - u_k^2/2 + x_k^2) w_k - log(c)/2 - log(pi)/2.
 *  The gradient is that of this approximation, for any number of nodes: the nodes move with phi, by the implicit derivative of
 *  u* and that of log c. Sources: Pinheiro & Bates (1995) JCGS 4:12-35; Liu & Pierce (1994) Biometrika 81:624-629 (both from
 *  memory). */
export class MarginalLikelihood {
  readonly rows: SortedRows
  readonly clusters: number
  /** Each cluster's mode u*, the curvature c there, and its part of the log-likelihood, of the last evaluation. */
  readonly modes: Float64Array
  readonly curvatures: Float64Array
  readonly parts: Float64Array
  private readonly quadrature: Quadrature
  private readonly eta: Float64Array
  private readonly rowScore: Float64Array
  private readonly modeInformation: Float64Array
  private readonly modeSlope: Float64Array
  private readonly logs: Float64Array
  private readonly slopes: Float64Array

  constructor(rows: SortedRows, nodes: number) {
    this.rows = rows
    this.clusters = rows.start.length - 1
    this.modes = new Float64Array(this.clusters)
    this.curvatures = new Float64Array(this.clusters).fill(1)
    this.parts = new Float64Array(this.clusters)
    this.quadrature = gaussHermite(nodes)
    const n = rows.x.rows
    this.eta = new Float64Array(n)
    this.rowScore = new Float64Array(n)
    this.modeInformation = new Float64Array(n)
    this.modeSlope = new Float64Array(n)
    this.logs = new Float64Array(nodes)
    this.slopes = new Float64Array(nodes)
  }

  get parameters(): number {
    return this.rows.x.cols + 1 + (this.rows.likelihood.dispersion === null ? 0 : 1)
  }

  /** Log-likelihood at phi, all constants in; fills `gradient` where it is given. NaN where some mode could not be found. */
  evaluate(phi: Float64Array, gradient?: Float64Array): number {
    const { x } = this.rows
    this.setParameters(phi)
    const s = Math.exp(phi[x.cols] ?? 0)
    gradient?.fill(0)
    let total = 0
    for (let g = 0; g < this.clusters; g++) {
      total += this.cluster(g, s, gradient)
      if (Number.isNaN(total)) return NaN
    }
    if (gradient !== undefined) multiplyTransposed(x, this.rowScore, gradient)
    return total
  }

  /** Finds each cluster's mode and the curvature there at phi, without the integral; false where one could not be found. */
  findModes(phi: Float64Array): boolean {
    this.setParameters(phi)
    const { x, start } = this.rows
    const s = Math.exp(phi[x.cols] ?? 0)
    for (let g = 0; g < this.clusters; g++)
      if (Number.isNaN(this.findMode(g, start[g] ?? 0, start[g + 1] ?? 0, s))) return false
    return true
  }

  /** Sets linear predictor and dispersion to those of phi. */
  setParameters(phi: Float64Array): void {
    const { x, likelihood, offset } = this.rows
    const { eta } = this
    multiply(x, phi.subarray(0, x.cols), eta)
    if (offset !== undefined) for (let i = 0; i < eta.length; i++) eta[i] = (eta[i] ?? 0) + (offset[i] ?? 0)
    likelihood.setPredictor(eta)
    likelihood.dispersion?.set(phi[x.cols + 1] ?? 0)
  }

  private cluster(g: number, s: number, gradient: Float64Array | undefined): number {
    const { likelihood, start } = this.rows
    const from = start[g] ?? 0
    const to = start[g + 1] ?? 0
    if (from === to) return 0
    const { dispersion } = likelihood
    const u = this.findMode(g, from, to, s)
    if (Number.isNaN(u)) return NaN
    const { x, logWeight } = this.quadrature
    const c = this.curvatures[g] ?? 1
    const scale = Math.sqrt(2 / c)
    let largest = -Infinity
    for (let k = 0; k < x.length; k++) {
      const node = x[k] ?? 0
      const at = u + scale * node
      const log = likelihood.logLik(from, to, s * at) - (at * at) / 2 + node * node + (logWeight[k] ?? 0)
      this.logs[k] = log
      if (gradient !== undefined && dispersion !== null) this.slopes[k] = dispersion.slope(from, to, s * at)
      if (log > largest) largest = log
    }
    let sum = 0
    for (let k = 0; k < x.length; k++) sum += Math.exp((this.logs[k] ?? 0) - largest)
    const log = largest + Math.log(sum)
    let constant = 0
    for (let i = from; i < to; i++) constant += likelihood.constants[i] ?? 0
    const part = log - Math.log(c) / 2 - Math.log(Math.PI) / 2 + constant
    this.parts[g] = part
    if (gradient !== undefined) this.addGradient(gradient, { from, to, s, u, c, log })
    return part
  }

  /** Halley's method on the concave log-likelihood of cluster g's intercept, from its last mode; a Newton step where the third
   *  derivative would change that by more than half. Keeps the mode, its curvature, and the rows' information there, and leaves
   *  their derivatives there in the likelihood. A cluster without rows keeps mode 0 and curvature 1. */
  private findMode(g: number, from: number, to: number, s: number): number {
    const { likelihood } = this.rows
    const { score, information, informationSlope } = likelihood
    let u = this.modes[g] ?? 0
    for (let step = 0; step < MODE_STEPS; step++) {
      likelihood.derivatives(from, to, s * u)
      let slope = 0
      let curvature = 0
      let bend = 0
      for (let i = from; i < to; i++) {
        slope += score[i] ?? 0
        curvature += information[i] ?? 0
        bend += informationSlope[i] ?? 0
      }
      const c = 1 + s * s * curvature
      const move = (s * slope - u) / c
      if (!(Math.abs(move) < Infinity)) break
      if (Math.abs(move) < MODE_REACH) {
        this.modes[g] = u
        this.curvatures[g] = c
        for (let i = from; i < to; i++) {
          this.modeInformation[i] = information[i] ?? 0
          this.modeSlope[i] = informationSlope[i] ?? 0
        }
        return u
      }
      const bent = 1 + (move * s ** 3 * bend) / (2 * c)
      u += Math.max(-1, Math.min(1, bent > 0.5 && bent < 1.5 ? move / bent : move))
    }
    this.modes[g] = 0
    return NaN
  }

  private addGradient(
    gradient: Float64Array,
    { from, to, s, u, c, log }: { from: number; to: number; s: number; u: number; c: number; log: number },
  ): void {
    const { x: design, likelihood } = this.rows
    const { dispersion, score } = likelihood
    const { x } = this.quadrature
    const { rowScore, modeInformation, modeSlope } = this
    const scale = Math.sqrt(2 / c)
    for (let i = from; i < to; i++) rowScore[i] = 0
    // by how much the nodes' common move and their stretch change the integrand
    let moved = 0
    let stretched = 0
    let bySd = 0
    let byDispersion = 0
    for (let k = 0; k < x.length; k++) {
      const node = x[k] ?? 0
      const at = u + scale * node
      const weight = Math.exp((this.logs[k] ?? 0) - log)
      if (weight < 1e-18) continue
      // a single node lies at the mode, whose derivatives are there already
      if (x.length > 1) likelihood.derivatives(from, to, s * at)
      let slope = 0
      for (let i = from; i < to; i++) {
        const rowSlope = score[i] ?? 0
        slope += rowSlope
        rowScore[i] = (rowScore[i] ?? 0) + weight * rowSlope
      }
      const pull = weight * (s * slope - at)
      moved += pull
      stretched += (pull * scale * node) / 2
      bySd += weight * slope * s * at
      byDispersion += weight * (this.slopes[k] ?? 0)
    }
    const half = stretched + 0.5
    let information = 0
    let bend = 0
    for (let i = from; i < to; i++) {
      information += modeInformation[i] ?? 0
      bend += modeSlope[i] ?? 0
    }
    const perC = (s * s) / c
    for (let i = from; i < to; i++) {
      const w = modeInformation[i] ?? 0
      rowScore[i] =
        (rowScore[i] ?? 0) - (moved * s * w) / c - half * perC * ((modeSlope[i] ?? 0) - perC * bend * w)
    }
    const modeBySd = (u * (2 - c)) / c
    const logCBySd = perC * (2 * information + bend * s * (u + modeBySd))
    const p = design.cols
    gradient[p] = (gradient[p] ?? 0) + bySd + moved * modeBySd - half * logCBySd
    if (dispersion === null) return
    dispersion.changes(from, to, s * u)
    let scoreSlope = 0
    let informationChange = 0
    for (let i = from; i < to; i++) {
      scoreSlope += dispersion.scoreSlope[i] ?? 0
      informationChange += dispersion.informationChange[i] ?? 0
    }
    const modeByDispersion = (s * scoreSlope) / c
    const logCByDispersion = perC * (informationChange + bend * s * modeByDispersion)
    gradient[p + 1] =
      (gradient[p + 1] ?? 0) + byDispersion + moved * modeByDispersion - half * logCByDispersion
  }
}

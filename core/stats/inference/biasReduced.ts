import { tCritical } from "../confidence.ts"
import { fUpper } from "../distributions/fDistribution.ts"
import { type FirthFamily, type FirthFit, type Held, fitFirth, penalisedRowScores } from "../glm/fitFirth.ts"
import type { NotFitted } from "../glm/notFitted.ts"
import { type ClusteredRows, clusterRows, likelihoodOf } from "../likelihood/rows.ts"
import { cholesky, solve } from "../matrix/cholesky.ts"
import { type Matrix, dot, multiply, quadraticForm, weightedGram, zeros } from "../matrix/matrix.ts"
import type { MixedFit } from "../mixed/fitMixed.ts"
import { type Contrasted, LEAST_DF, type Interval } from "./adjustedContrast.ts"
import { withRefits } from "./clusterDeletion.ts"
import type { Changes } from "./deletionSteps.ts"
import { contrastAsColumn, profileEnd, profileInterval, type Profile } from "./profileInterval.ts"

/** A bias-reduced fit (see fitFirth) told as a model whose clusters do not differ: it has no cluster intercepts, and its
 *  log-likelihood is the penalised one. */
export function biasReducedFit(rows: ClusteredRows, family: FirthFamily): MixedFit | NotFitted {
  const fit = fitFirth(rows, family)
  if (fit.kind !== "fit") return fit
  return Object.freeze({
    kind: "boundary",
    family,
    nodes: 1,
    coefficients: fit.coefficients,
    sd: 0,
    dispersion: null,
    covariance: fit.covariance,
    logLik: fit.penalisedLogLik,
    modes: new Float64Array(rows.clusters),
    modeSds: new Float64Array(rows.clusters),
    iterations: fit.iterations,
  })
}

/** Contrasts of a bias-reduced fit. Their own interval is by penalised profile likelihood at t(df)^2 (but for the quickest
 *  effort of adjustedContrast), since Wald's is poor where data are separated; that clusters differ is the delete-one-cluster jackknife's to tell.
 *  Source of the profile: Heinze & Schemper (2002) Statistics in Medicine 21:2409-2419 (from memory); its cut is ours. */
export class BiasReducedContrasts implements Contrasted {
  readonly profiled = true
  readonly fit: MixedFit
  readonly df: number
  readonly clusters: number
  private readonly rows: ClusteredRows
  private readonly family: FirthFamily
  private stepped: Changes | null | undefined
  private readonly refitted = new Map<number, Float64Array | null>()

  /** `fit` is biasReducedFit's of these rows; df are clusters less cluster-level columns. */
  constructor(rows: ClusteredRows, fit: MixedFit, family: FirthFamily, df: number) {
    if (!(df >= LEAST_DF))
      throw new RangeError(`A contrast needs ${LEAST_DF} degrees of freedom; it was given ${df}.`)
    this.rows = rows
    this.fit = fit
    this.family = family
    this.df = df
    this.clusters = new Set(rows.cluster).size
  }

  oneStep(): Changes | null {
    if (this.stepped === undefined)
      this.stepped = penalisedOneStep(this.rows, this.family, this.fit.coefficients)
    return this.stepped
  }

  refits(clusters: readonly number[]): Changes | null {
    const { coefficients } = this.fit
    return withRefits(this.oneStep(), clusters, this.refitted, (g) => {
      const left = clusterRows(this.rows, (own) => own !== g)
      const again = fitFirth(left, this.family, { start: coefficients })
      return again.kind === "fit" ? again.coefficients.map((at, j) => at - (coefficients[j] ?? 0)) : null
    })
  }

  byLikelihoodRatio(contrast: Float64Array): Interval {
    const profile = this.profile(contrast)
    if (profile === null) return { low: -Infinity, high: Infinity, p: NaN }
    const { low, high } = profileInterval(profile, tCritical(this.df) ** 2)
    const lost = 2 * (profile.logLik - profile.heldAt(0))
    return { low, high, p: fUpper(Math.max(0, lost), 1, this.df) }
  }

  /** The largest l'b at which twice the penalised log-likelihood has lost no more than `cut`. */
  mostAt(contrast: Float64Array, cut: number): number {
    const profile = this.profile(contrast)
    return profile === null ? Infinity : profileEnd(profile, cut, 1)
  }

  private profile(contrast: Float64Array): Profile | null {
    const { x, pivot } = contrastAsColumn(this.rows.x, contrast)
    const turned = { ...this.rows, x }
    const start = this.fit.coefficients.slice()
    start[pivot] = dot(contrast, start)
    const best = fitFirth(turned, this.family, { start })
    if (best.kind !== "fit") return null
    let near: FirthFit = best
    return {
      estimate: best.coefficients[pivot] ?? 0,
      se: Math.sqrt(quadraticForm(contrast, this.fit.covariance ?? zeros(x.cols, x.cols))),
      logLik: best.penalisedLogLik,
      heldAt: (value) => {
        const held = { column: pivot, value }
        const fit = fitFirth(turned, this.family, { held, start: along(near, held) })
        if (fit.kind !== "fit") return NaN
        near = fit
        return fit.penalisedLogLik
      },
    }
  }
}

/** The coefficients to be expected once one of them is held at a value: the others follow it by their covariances. */
function along({ coefficients, covariance }: FirthFit, { column, value }: Held): Float64Array {
  const of = (j: number) => covariance.data[j + covariance.rows * column] ?? 0
  const move = (value - (coefficients[column] ?? 0)) / of(column)
  return coefficients.map((at, j) => at + move * of(j))
}

/** One-step changes on leaving out each cluster, as oneStepChanges, with the penalised score and the expected information; the
 *  leverages stay those of all rows. */
function penalisedOneStep(
  rows: ClusteredRows,
  family: FirthFamily,
  coefficients: Float64Array,
): Changes | null {
  const { x, offset, cluster, clusters } = rows
  const p = x.cols
  const likelihood = likelihoodOf(family, rows)
  const eta = new Float64Array(x.rows)
  multiply(x, coefficients, eta)
  offset?.forEach((own, i) => {
    eta[i] = (eta[i] ?? 0) + own
  })
  likelihood.setPredictor(eta)
  likelihood.derivatives(0, x.rows, 0)
  likelihood.expectInformation()
  const total = zeros(p, p)
  weightedGram(x, likelihood.information, total)
  const factor = cholesky(total, 1e-14)
  if (factor === null) return null
  const pulled = penalisedRowScores(x, likelihood.score, likelihood.informationSlope, factor)
  const changes = zeros(clusters, p)
  const members = Map.groupBy(cluster.keys(), (i) => cluster[i] ?? 0)
  for (const [g, own] of members) {
    const left: Matrix = { ...total, data: total.data.slice() }
    const score = new Float64Array(p)
    for (const i of own)
      for (let j = 0; j < p; j++) {
        const at = x.data[i + x.rows * j] ?? 0
        score[j] = (score[j] ?? 0) - (pulled[i] ?? 0) * at
        for (let k = 0; k < p; k++)
          left.data[k + p * j] =
            (left.data[k + p * j] ?? 0) -
            (likelihood.information[i] ?? 0) * at * (x.data[i + x.rows * k] ?? 0)
      }
    const without = cholesky(left, 1e-10)
    if (without === null) return null
    solve(without, score).forEach((change, j) => {
      changes.data[g + clusters * j] = change
    })
  }
  return changes
}

import type { ClusteredRows } from "../likelihood/rows.ts"
import { column, dot } from "../matrix/matrix.ts"
import type { MixedFit } from "../mixed/fitMixed.ts"
import { jackknifedVariance, oneStepChanges, refittedChanges, withRefits } from "./clusterDeletion.ts"
import type { Changes } from "./deletionSteps.ts"
import { likelihoodRatioF, linearContrast, tEstimate, wider } from "./contrast.ts"
import { heldLogLik, likelihoodRatioInterval } from "./likelihoodRatioInterval.ts"

/** What stands behind one side of a contrast: its events, and the clusters that hold one of them. */
export type Side = { readonly events: number; readonly clusters: readonly number[] }

export type AdjustedContrast = {
  /** l'b. */
  readonly estimate: number
  /** 95%; an end may be infinite. */
  readonly low: number
  readonly high: number
  /** Two-sided, of l'b = 0, belonging to the interval. */
  readonly p: number
  readonly df: number
  /** Which interval is the wider and is given, whole. */
  readonly by: "model" | "likelihood ratio" | "jackknife"
  /** false where some cluster cannot be left out, so that no jackknife stands beside the model. */
  readonly jackknifed: boolean
}

/** Below so many events on a side the likelihood ratio takes the place of the model's standard error. */
const FEW_EVENTS = 20
/** With fewer clusters than this holding an event of a side, the jackknife fits the model again without each of these; the
 *  others, none of which matters much to that side, are left out by one step. */
const FEW_CLUSTERS = 10
/** Fewer degrees of freedom carry no adjusted answer. */
export const LEAST_DF = 3

/** What the contrasts of one fit share. */
export interface Contrasted {
  readonly fit: MixedFit
  readonly df: number
  /** Clusters with rows. */
  readonly clusters: number
  /** Whether every contrast's own interval is by likelihood ratio, not only those with few events. */
  readonly profiled: boolean
  /** The changes on leaving out each cluster, by one step; null where what is left cannot tell the coefficients apart. */
  oneStep(): Changes | null
  /** The same by fitting again without each of these clusters, by one step without any other. */
  refits(clusters: readonly number[]): Changes | null
  /** The interval of l'b at t(df)^2, and the p of l'b = 0, everything else fitted again. */
  byLikelihoodRatio(contrast: Float64Array): Interval
}

export type Interval = { readonly low: number; readonly high: number; readonly p: number }

/** Contrasts of a model with random intercepts; what is dear is reckoned when first asked for. */
export class ContrastedFit implements Contrasted {
  readonly profiled = false
  readonly fit: MixedFit
  readonly df: number
  readonly clusters: number
  private readonly rows: ClusteredRows
  private stepped: Changes | null | undefined
  private readonly refitted = new Map<number, Float64Array | null>()

  /** df are clusters less cluster-level columns. */
  constructor(rows: ClusteredRows, fit: MixedFit, df: number) {
    if (!(df >= LEAST_DF))
      throw new RangeError(`A contrast needs ${LEAST_DF} degrees of freedom; it was given ${df}.`)
    this.rows = rows
    this.fit = fit
    this.df = df
    this.clusters = new Set(rows.cluster).size
  }

  oneStep(): Changes | null {
    if (this.stepped === undefined) this.stepped = oneStepChanges(this.rows, this.fit)
    return this.stepped
  }

  byLikelihoodRatio(contrast: Float64Array): Interval {
    return byLikelihoodRatio(this.rows, this.fit, contrast, this.df)
  }

  refits(clusters: readonly number[]): Changes | null {
    return withRefits(this.oneStep(), clusters, this.refitted, (g) => {
      const change = refittedChanges(this.rows, this.fit, [g])
      return change === null
        ? null
        : Float64Array.from({ length: change.cols }, (_, j) => column(change, j)[g] ?? 0)
    })
  }
}

/** How often a model may be fitted again for one contrast. */
export type Effort = "thorough" | "quick" | "quickest"

/** l'b of a model with the wider of two 95% intervals: the model's (t, or likelihood ratio where a side
 *  has few events) and the delete-one-cluster jackknife's (one step, or refits where few clusters hold a side's events), since
 *  effects may differ from cluster to cluster. The fit needs its covariance; of a model with random intercepts both sides need
 *  events (see emptyLevel.ts). With less than "thorough" effort no model is fitted again: neither likelihood ratio nor refits; "quick" but for
 *  a fit whose own interval is by profile, which "quickest" takes by t too.
 *  Source: the combination is ours; its parts are named where they are. */
export function adjustedContrast(
  given: Contrasted,
  contrast: Float64Array,
  sides: readonly [Side, Side],
  effort: Effort = "thorough",
): AdjustedContrast {
  const { fit, df } = given
  const { covariance } = fit
  if (covariance === null) throw new RangeError("A contrast needs a fit with its covariance.")
  const estimate = dot(contrast, fit.coefficients)
  const few =
    (effort !== "quickest" && given.profiled) ||
    (effort === "thorough" && sides.some(({ events }) => events < FEW_EVENTS))
  const first = few ? "likelihood ratio" : "model"
  const model: Interval = few
    ? given.byLikelihoodRatio(contrast)
    : linearContrast(contrast, fit.coefficients, covariance, df)
  const thinSide = ({ events, clusters }: Side): boolean =>
    clusters.length < FEW_CLUSTERS || (given.profiled && events < FEW_EVENTS)
  const thin = effort === "thorough" ? sides.filter(thinSide) : []
  const changes =
    thin.length > 0 ? given.refits([...new Set(thin.flatMap((side) => side.clusters))]) : given.oneStep()
  const shared = { estimate, df, jackknifed: changes !== null }
  if (changes === null)
    return Object.freeze({ ...shared, low: model.low, high: model.high, p: model.p, by: first })
  const spread = Math.sqrt(jackknifedVariance(contrast, changes, given.clusters))
  const jackknife = tEstimate(estimate, spread, df)
  const shown = wider<Interval>(model, jackknife)
  const { low, high, p } = shown
  return Object.freeze({ ...shared, low, high, p, by: shown === jackknife ? "jackknife" : first })
}

function byLikelihoodRatio(rows: ClusteredRows, fit: MixedFit, contrast: Float64Array, df: number): Interval {
  const heldAt = heldLogLik(rows, fit, contrast)
  const ends = likelihoodRatioInterval(fit, contrast, df, heldAt)
  const without = heldAt(0)
  return { ...ends, p: Number.isNaN(without) ? NaN : likelihoodRatioF(fit.logLik, without, 1, df).p }
}

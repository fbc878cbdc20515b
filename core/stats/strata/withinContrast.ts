import type { ClusteredRows } from "../likelihood/rows.ts"
import { dot } from "../matrix/matrix.ts"
import { jackknifedVariance } from "../inference/clusterDeletion.ts"
import type { Changes } from "../inference/deletionSteps.ts"
import { type Estimate, tEstimate } from "../inference/contrast.ts"
import { type ClustersHolding } from "./clustersHolding.ts"
import { type ConditionalFit, conditionalChanges } from "./conditionalPoisson.ts"

/** A spread below this is rounding, not data: clusters that happen to be all alike are no certainty. */
const NO_SPREAD = 1e-9

/** Contrast l'b of a conditional Poisson fit, comparing levels a and b within strata: its variance by the delete-one-cluster
 *  jackknife over the clusters that tell anything (the model's own is too small where events clump), t on the clusters that
 *  hold both levels less one. Null where fewer than two do, where they do not differ at all, or where one of them cannot be left
 *  out. `cluster[i]` is row i's,
 *  numbered from 0; strata (the rows' own clusters) lie within them. `changes` are the fit's, where already reckoned.
 *  Source: the combination is ours; its parts are named where they are. */
export function withinContrast(
  rows: ClusteredRows,
  fit: ConditionalFit,
  contrast: Float64Array,
  levels: { readonly a: number; readonly b: number; readonly holding: ClustersHolding },
  { cluster, clusters }: { readonly cluster: Int32Array; readonly clusters: number },
  changes: Changes | null = conditionalChanges(rows, fit.coefficients, cluster, clusters),
): Estimate | null {
  const df = levels.holding.both(levels.a, levels.b) - 1
  if (df < 1) return null
  if (changes === null) return null
  const variance = jackknifedVariance(contrast, changes, levels.holding.informative())
  if (Math.sqrt(variance) < NO_SPREAD) return null
  return tEstimate(dot(contrast, fit.coefficients), Math.sqrt(variance), df)
}

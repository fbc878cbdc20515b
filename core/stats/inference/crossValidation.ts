import { type ClusteredRows, type Family, clusterRows } from "../likelihood/rows.ts"
import { fitMixed } from "../mixed/fitMixed.ts"
import { type KnownModel, marginalLogLik } from "../mixed/marginalOfFit.ts"
import { fitPlain } from "../mixed/plain.ts"

const NODES = 15

/** How well a model foretells clusters it has not seen: for each fold of whole clusters, the left-out clusters' log-likelihood
 *  under the model fitted to the others, with random intercepts integrated out or without any. Higher is better; compare the
 *  sums of models on the same folds. fold[g] is cluster g's, from 0 up. Null where a fit fails. `done` is told after each.
 *  Sources: Gneiting & Raftery (2007) JASA 102:359-378 (log score); Roberts et al. (2017) Ecography 40:913-929 (whole clusters
 *  left out; both from memory). */
export function crossValidatedLogScores(
  rows: ClusteredRows,
  { family, intercepts }: { family: Family; intercepts: boolean },
  fold: Int32Array,
  done: (fold: number) => void = () => {},
): Float64Array | null {
  const scores = new Float64Array(fold.reduce((most, f) => Math.max(most, f + 1), 0))
  for (let f = 0; f < scores.length; f++) {
    const model = fitOn(
      clusterRows(rows, (g) => fold[g] !== f),
      family,
      intercepts,
    )
    if (model === null) return null
    const left = clusterRows(rows, (g) => fold[g] === f)
    if (left.y.length > 0) scores[f] = marginalLogLik(left, model, NODES)
    done(f)
  }
  return scores
}

function fitOn(rows: ClusteredRows, family: Family, intercepts: boolean): KnownModel | null {
  if (intercepts) {
    const fit = fitMixed(rows, family, { nodes: NODES, covariance: false })
    return fit.kind === "separated" || fit.kind === "not fitted" ? null : fit
  }
  const plain = fitPlain(rows, family)
  return plain.kind === "plain" ? { family, ...plain.parameters } : null
}

import type { Likelihood } from "../likelihood/likelihood.ts"
import type { Quadrature } from "./gaussHermite.ts"

/** A cluster's rows, and where its intercept's nodes lie: s times u + scale x of each node x. */
export type ClusterNodes = {
  readonly from: number
  readonly to: number
  readonly s: number
  readonly u: number
  readonly scale: number
}

/** A node of less than this part adds nothing to a sum. */
export const NO_SHARE = 1e-18

/** Fills `share` with the parts that the nodes have in a cluster's intercept given its data; they sum to 1. */
export function shareNodes(
  likelihood: Likelihood,
  { from, to, s, u, scale }: ClusterNodes,
  { x, logWeight }: Quadrature,
  share: Float64Array,
): void {
  let largest = -Infinity
  for (let k = 0; k < x.length; k++) {
    const node = x[k] ?? 0
    const at = u + scale * node
    const log = likelihood.logLik(from, to, s * at) - (at * at) / 2 + node ** 2 + (logWeight[k] ?? 0)
    share[k] = log
    if (log > largest) largest = log
  }
  let total = 0
  for (let k = 0; k < x.length; k++) total += share[k] = Math.exp((share[k] ?? 0) - largest)
  for (let k = 0; k < x.length; k++) share[k] = (share[k] ?? 0) / total
}

import { findRoot } from "../optimise/findRoot.ts"

/** Farther out than this, on the log scale, a bound is called infinite. */
const FARTHEST = 12

/** Where an excess that rises with a log ratio, from below 0 far down, passes 0: sought about 0, then outwards by half as much
 *  again. Infinity where it does not within 12; null where it cannot be had on the way. */
export function oneSidedBound(excess: (value: number) => number, tolerance = 1e-8): number | null {
  let [inside, outside] = [0, 0]
  let [low, high] = [excess(0), NaN]
  for (let reach = 1; low > 0 && reach <= FARTHEST; reach *= 1.5) {
    ;[outside, high] = [inside, low]
    inside = -reach
    low = excess(inside)
  }
  for (let reach = 1; Number.isNaN(high) && reach <= FARTHEST; reach *= 1.5) {
    outside = reach
    const value = excess(outside)
    if (value > 0) high = value
    else [inside, low] = [outside, value]
  }
  if (Number.isNaN(low + high)) return Number.isNaN(low) ? null : Infinity
  const root = findRoot(excess, inside, outside, { tolerance, fa: low, fb: high })
  return Number.isNaN(root) ? outside : root
}

import { ratioOfSums } from "./ratioOfSums.ts"

/** The cluster whose removal changes the rate sum y / sum h by the largest factor, up or down, and the rate without it.
 *  `index` counts in y and h as given. Removing all events counts as the largest change there is. Null without events, or
 *  where no exposure would be left. */
export function mostInfluential(y: Float64Array, h: Float64Array): { index: number; without: number } | null {
  const sums = ratioOfSums(y, h)
  if (sums === null || sums.events === 0 || sums.variance === null) return null
  let worst: { index: number; without: number; change: number } | null = null
  for (let index = 0; index < h.length; index++) {
    const size = h[index] ?? 0
    if (size === 0) continue
    const without = (sums.events - (y[index] ?? 0)) / (sums.exposure - size)
    const change = Math.abs(Math.log(without / sums.ratio))
    if (worst === null || change > worst.change) worst = { index, without, change }
  }
  return worst === null ? null : { index: worst.index, without: worst.without }
}

/** A high or low water: instant in UTC ms and height in metres above the station's datum. */
export type Water = { readonly kind: "high" | "low"; readonly at: number; readonly height_m: number }

/** Turning points that differ by less are not counted as tides: 0.10 foot, the US tabulation rule (from memory). */
const leastRange_m = 0.03

/**
 * Takes the pair of neighbouring waters that differ least out, again and again, until every high differs from its lows by
 * at least 3 cm. `waters` are in time, highs and lows by turns; so is the result.
 */
export function withoutMinor(waters: readonly Water[]): Water[] {
  const kept = [...waters]
  for (;;) {
    let least = leastRange_m
    let at = -1
    for (let i = 1; i < kept.length; i++) {
      const range = rangeBetween(kept[i - 1], kept[i])
      if (range < least) [least, at] = [range, i]
    }
    if (at < 0) return kept
    kept.splice(at - 1, 2)
  }
}

const rangeBetween = (a: Water | undefined, b: Water | undefined): number =>
  a === undefined || b === undefined ? Infinity : Math.abs(a.height_m - b.height_m)

/** Index of the last of `waters` at or before an instant; -1 where all come later. */
export function lastBefore(waters: readonly { readonly at: number }[], at: number): number {
  let [low, high] = [0, waters.length]
  while (low < high) {
    const middle = (low + high) >> 1
    if ((waters[middle]?.at ?? Infinity) <= at) low = middle + 1
    else high = middle
  }
  return low - 1
}

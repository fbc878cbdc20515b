/** An increasing function at a point, and its slope. */
export type Gap = { value: number; slope: number }

/** Where an increasing function is 0: Newton's steps inside the bracket found so far, none longer than twice the longest yet,
 *  bisection where one would leave it. Quick for the logs of tails, which are concave on the scales used here. Throws an Error
 *  after 1,000 steps. */
export function solveIncreasing(gap: (at: number) => Gap, start: number): number {
  let low = -Infinity
  let high = Infinity
  let at = start
  let reach = 1
  for (let step = 0; step < 1000; step++) {
    const { value, slope } = gap(at)
    if (value === 0) return at
    if (value > 0) high = at
    else low = at
    reach *= 2
    const wanted = slope > 0 ? -value / slope : value > 0 ? -reach : reach
    const next = at + Math.max(-reach, Math.min(reach, wanted))
    const inside = next > low && next < high
    if (Math.abs(wanted) < 1e-9 * Math.max(1, Math.abs(at))) return inside ? next : at
    const middle = (low + high) / 2
    if (!inside && !(middle > low && middle < high)) return at
    at = inside ? next : middle
  }
  throw new Error(`No root was found between ${low} and ${high}.`)
}

/** A cumulative probability this much of itself short of p counts as reaching it: at p = 0.3 a sum of terms that is 0.3 in
 *  exact arithmetic must not fail by rounding. */
const SLACK = 1e-12

/** The least count k from 0 to `most` whose cumulative probability reaches p, searched outward from `start`. RangeError where
 *  it, or the start, is too large for every count up to it to be told apart. */
export function countQuantile(
  p: number,
  cumulative: (k: number) => number,
  start: number,
  most = Infinity,
): number {
  const reaches = (k: number): boolean => k >= most || cumulative(k) >= p * (1 - SLACK)
  let high = countable(Math.min(most, Math.max(0, Math.round(start))))
  let low = high
  for (let reach = 1; !reaches(high); reach *= 2) {
    low = high
    high = countable(Math.min(most, high + reach))
  }
  if (low === high) {
    for (let reach = 1; low >= 0 && reaches(low); reach *= 2) {
      high = low
      low = Math.max(-1, low - reach)
    }
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2)
    if (reaches(middle)) high = middle
    else low = middle
  }
  return high
}

function countable(count: number): number {
  if (count <= Number.MAX_SAFE_INTEGER) return count
  throw new RangeError(`A quantile needs counts up to ${Number.MAX_SAFE_INTEGER}; it was given a law beyond.`)
}

import { quantileSorted } from "simple-statistics"

/** Knots of a natural cubic spline: linear beyond the first and the last, cubic between. */
export type Knots = readonly number[]

/** Knots for a covariate: `columns` - 1 at its quantiles between the ends (type 7), and its least and greatest value; fewer
 *  where values repeat. Null where fewer than three differ, so that a straight line is all there is. */
export function knotsAt(values: Float64Array, columns: number): Knots | null {
  const sorted = Array.from(values.toSorted())
  const inner = Array.from({ length: columns - 1 }, (_, k) => quantileSorted(sorted, (k + 1) / columns))
  const knots = [...new Set([sorted[0] ?? NaN, ...inner, sorted.at(-1) ?? NaN])]
  return knots.length < 3 ? null : knots
}

/** The covariate's columns: x and a column for each knot but the last two, d_k(x) - d_K-1(x) with
 *  d_k(x) = ((x - k)+^3 - (x - K)+^3)/(K - k), on x brought to 0 to 1 between the outer knots. With an intercept they span all
 *  natural cubic splines with these knots. Source: Hastie, Tibshirani & Friedman (2009) The Elements of Statistical Learning,
 *  5.2.1 (from memory). */
export function splineColumns(x: Float64Array, knots: Knots): Float64Array[] {
  const first = knots[0] ?? NaN
  const last = knots.at(-1) ?? NaN
  const span = last - first
  if (!(span > 0) || knots.length < 3 || knots.some((knot, k) => k > 0 && !(knot > (knots[k - 1] ?? NaN)))) {
    throw new RangeError(
      `A natural spline needs three or more rising knots; it was given ${knots.join(", ")}.`,
    )
  }
  const scaled = x.map((value) => (value - first) / span)
  const at = knots.map((knot) => (knot - first) / span)
  const cubed = (value: number): number => (value > 0 ? value * value * value : 0)
  const d = (value: number, knot: number): number => (cubed(value - knot) - cubed(value - 1)) / (1 - knot)
  const nextToLast = at.at(-2) ?? NaN
  return [
    scaled,
    ...at.slice(0, -2).map((knot) => scaled.map((value) => d(value, knot) - d(value, nextToLast))),
  ]
}

import type { Polynomial } from "./polynomial.ts"

/** Value, rate and bend at a knot and at the next. */
const around = (knots: Float64Array, k: number) =>
  [
    knots[3 * k] ?? Number.NaN,
    knots[3 * k + 1] ?? Number.NaN,
    knots[3 * k + 2] ?? Number.NaN,
    knots[3 * k + 3] ?? Number.NaN,
    knots[3 * k + 4] ?? Number.NaN,
    knots[3 * k + 5] ?? Number.NaN,
  ] as const

/**
 * The quintic on 0 to 1 that has these values, first and second derivatives at both ends (Hermite's). `knots` holds the three
 * for each knot in turn; the piece begins at knot `k`.
 */
export function quinticAfter(knots: Float64Array, k: number): Polynomial {
  const [value, rate, bend, endValue, endRate, endBend] = around(knots, k)
  const rise = endValue - value - rate - bend / 2
  const steeper = endRate - rate - bend
  const bent = (endBend - bend) / 2
  return [
    value,
    rate,
    bend / 2,
    10 * rise - 4 * steeper + bent,
    7 * steeper - 15 * rise - 2 * bent,
    6 * rise - 3 * steeper + bent,
  ]
}

/**
 * Writes the control points (Bernstein coefficients) of that quintic, six, or of its derivative, five, over `controls`: it
 * passes zero at most as often as they change sign, and not at all where they do not. Source: Farouki (2012) The Bernstein
 * polynomial basis, Computer Aided Geometric Design 29:379-419 (from memory).
 */
export function controlsAfter(knots: Float64Array, k: number, order: 0 | 1, controls: Float64Array): void {
  const [value, rate, bend, endValue, endRate, endBend] = around(knots, k)
  if (order === 0) {
    controls[0] = value
    controls[1] = value + rate / 5
    controls[2] = value + (2 * rate) / 5 + bend / 20
    controls[3] = endValue - (2 * endRate) / 5 + endBend / 20
    controls[4] = endValue - endRate / 5
    controls[5] = endValue
  } else {
    controls[0] = rate
    controls[1] = rate + bend / 4
    controls[2] = 5 * (endValue - value) - 2 * (endRate + rate) + (endBend - bend) / 4
    controls[3] = endRate - endBend / 4
    controls[4] = endRate
  }
}

/** A polynomial by its coefficients, the constant first. */
export type Polynomial = readonly number[]

/**
 * The quintic on 0 to 1 that has these values, first and second derivatives at both ends (Hermite's). `knots` holds the three
 * for each knot in turn; the piece begins at knot `k`.
 */
export function quinticAfter(knots: Float64Array, k: number): Polynomial {
  const at = 3 * k
  const value = knots[at] ?? Number.NaN
  const rate = knots[at + 1] ?? Number.NaN
  const half = (knots[at + 2] ?? Number.NaN) / 2
  const rise = (knots[at + 3] ?? Number.NaN) - value - rate - half
  const steeper = (knots[at + 4] ?? Number.NaN) - rate - 2 * half
  const bent = (knots[at + 5] ?? Number.NaN) / 2 - half
  return [
    value,
    rate,
    half,
    10 * rise - 4 * steeper + bent,
    7 * steeper - 15 * rise - 2 * bent,
    6 * rise - 3 * steeper + bent,
  ]
}

/** Value of a polynomial. Source: Horner's rule. */
export function valueOf(polynomial: Polynomial, x: number): number {
  let value = 0
  for (let i = polynomial.length - 1; i >= 0; i--) value = value * x + (polynomial[i] ?? 0)
  return value
}

export const derivative = (polynomial: Polynomial): Polynomial =>
  polynomial.slice(1).map((coefficient, i) => coefficient * (i + 1))

/**
 * The root at which a polynomial passes zero between two places, upwards or downwards, to `within`: Newton's steps, and halving
 * where one of them would leave the bracket.
 */
export function rootBetween(
  polynomial: Polynomial,
  from: number,
  to: number,
  upwards: boolean,
  within: number,
): number {
  const slope = derivative(polynomial)
  let [low, high] = [from, to]
  let x = (low + high) / 2
  for (;;) {
    const value = valueOf(polynomial, x)
    if (value >= 0 === upwards) high = x
    else low = x
    const step = value / valueOf(slope, x)
    if (Math.abs(step) < within || high - low < within) return x
    const next = x - step
    x = next > low && next < high ? next : (low + high) / 2
  }
}

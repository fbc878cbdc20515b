/** A polynomial by its coefficients, the constant first. */
export type Polynomial = readonly number[]

/** How often the signs of some numbers change from one to the next; 0 counts as above. */
export function signChanges(values: Float64Array): number {
  let changes = 0
  for (let i = 1; i < values.length; i++) if ((values[i] ?? 0) >= 0 !== (values[i - 1] ?? 0) >= 0) changes++
  return changes
}

/** Value of a polynomial. Source: Horner's rule. */
export function valueOf(polynomial: Polynomial, x: number): number {
  let value = 0
  for (let i = polynomial.length - 1; i >= 0; i--) value = value * x + (polynomial[i] ?? 0)
  return value
}

/** Slope of a polynomial, as `valueOf(derivative(polynomial), x)`. */
export function slopeOf(polynomial: Polynomial, x: number): number {
  let slope = 0
  for (let i = polynomial.length - 1; i > 0; i--) slope = slope * x + i * (polynomial[i] ?? 0)
  return slope
}

export const derivative = (polynomial: Polynomial): Polynomial =>
  polynomial.slice(1).map((coefficient, i) => coefficient * (i + 1))

/**
 * The root at which a polynomial passes zero between two places, upwards or downwards, to `within`: Newton's steps from
 * where a straight line would pass, and halving where one of them would leave the bracket.
 */
export function rootBetween(
  polynomial: Polynomial,
  from: number,
  to: number,
  upwards: boolean,
  within: number,
): number {
  let [low, high] = [from, to]
  const begins = valueOf(polynomial, from)
  let x = from + ((to - from) * begins) / (begins - valueOf(polynomial, to))
  for (;;) {
    const value = valueOf(polynomial, x)
    if (value >= 0 === upwards) high = x
    else low = x
    const step = value / slopeOf(polynomial, x)
    if (Math.abs(step) < within || high - low < within) return x
    const next = x - step
    x = next > low && next < high ? next : (low + high) / 2
  }
}

/** All places from 0 to 1 at which a polynomial passes zero, to `within`: one at most between any two turns of it. */
export function rootsWithin(polynomial: Polynomial, within: number): number[] {
  if (polynomial.length < 2) return []
  const found: number[] = []
  let from = 0
  for (const to of [...rootsWithin(derivative(polynomial), within), 1]) {
    const upwards = valueOf(polynomial, to) >= 0
    if (upwards !== valueOf(polynomial, from) >= 0)
      found.push(rootBetween(polynomial, from, to, upwards, within))
    from = to
  }
  return found
}

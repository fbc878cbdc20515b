const TINY = 1e-300
const EPSILON = 2 ** -53

/** Value of b(0) + a(1)/(b(1) + a(2)/(b(2) + ...)), by the modified Lentz algorithm, to the last digits of a double. Throws an
 *  Error where 1,000,000 terms do not settle it. Source: Thompson & Barnett (1986) Journal of Computational Physics
 *  64:490-509 (from memory). */
export function continuedFraction(
  numerator: (n: number) => number,
  denominator: (n: number) => number,
): number {
  let value = denominator(0) || TINY
  let c = value
  let d = 0
  for (let n = 1; n <= 1_000_000; n++) {
    const a = numerator(n)
    const b = denominator(n)
    d = 1 / (b + a * d || TINY)
    c = b + a / c || TINY
    const factor = c * d
    value *= factor
    if (Math.abs(factor - 1) <= EPSILON) return value
  }
  throw new Error("A continued fraction did not settle within a million terms.")
}

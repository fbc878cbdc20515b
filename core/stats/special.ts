import cephes from "cephes"
import { requirePositive } from "./arguments.ts"

await cephes.compiled

/** The gamma function's relatives by way of the Cephes library (Moshier). Arguments are checked first, because the library
 *  answers some impossible ones with a silent 0. Its incomplete gamma and beta functions are not used: they throw on
 *  underflow, give no logs, and lose digits at large shapes and at small ones (see incompleteGamma.ts, incompleteBeta.ts). */

/** log of the gamma function, for x > 0. */
export function logGamma(x: number): number {
  requirePositive("logGamma", "x", x)
  return cephes.lgam(x)
}

/** log y! of each count, the gamma function asked once for each that differs. */
export function logFactorials(counts: Float64Array): Float64Array {
  const known = new Map<number, number>()
  return counts.map((count) => {
    const found = known.get(count) ?? logGamma(count + 1)
    if (!known.has(count)) known.set(count, found)
    return found
  })
}

/** Derivative of logGamma, for x > 0. */
export function digamma(x: number): number {
  requirePositive("digamma", "x", x)
  return cephes.psi(x)
}

/** Second derivative of logGamma, for x > 0: the Hurwitz zeta function at 2. */
export function trigamma(x: number): number {
  requirePositive("trigamma", "x", x)
  return cephes.zeta(2, x)
}

/** Standard normal quantile, for p between 0 and 1. */
export function inverseNormal(p: number): number {
  return cephes.ndtri(p)
}

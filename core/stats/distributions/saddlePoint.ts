import { logGamma } from "../special.ts"

/** Terms of the Poisson and binomial laws without the cancellation of their log-gamma forms: factorials are replaced by
 *  Stirling's formula with its error, and what is left is a deviance. Counts need not be whole, so gamma, beta, t and
 *  negative binomial densities are these terms as well. Source: Loader (2000) Fast and Accurate Computation of Binomial
 *  Probabilities (from memory). */

export const HALF_LOG_2PI = 0.5 * Math.log(2 * Math.PI)

/** log x! - log(sqrt(2 pi x) (x/e)^x), for x > 0. From 15 on the term of the series left out is below 1e-15. */
function stirlingError(x: number): number {
  if (x < 15) return logGamma(x + 1) - (x + 0.5) * Math.log(x) + x - HALF_LOG_2PI
  const s = 1 / (x * x)
  return (1 / 12 - (1 / 360 - (1 / 1260 - (1 / 1680 - s / 1188) * s) * s) * s) / x
}

/** x log(x/mean) + mean - x, for x and mean > 0; a series where the two are near, since it then cancels. */
function halfDeviance(x: number, mean: number): number {
  const v = (x - mean) / (x + mean)
  if (Math.abs(v) > 0.1) return x * Math.log(x / mean) + mean - x
  let term = 2 * x * v
  let sum = (x - mean) * v
  for (let j = 3; Math.abs(term) > Math.abs(sum) * 2 ** -54; j += 2) {
    term *= v * v
    sum += term / j
  }
  return sum
}

/** log of mean^x e^-mean / Gamma(x + 1), for x >= 0 and mean >= 0. */
export function logPoissonTerm(x: number, mean: number): number {
  if (mean === 0) return x === 0 ? 0 : -Infinity
  if (mean === Infinity || x === Infinity) return -Infinity
  if (x < 1) return x * Math.log(mean) - mean - logGamma(x + 1)
  return -stirlingError(x) - halfDeviance(x, mean) - HALF_LOG_2PI - 0.5 * Math.log(x)
}

/** log of Gamma(a + b + 1) / (Gamma(a + 1) Gamma(b + 1)) x^a y^b, for a, b >= 0 and x + y = 1. Both shares are asked for,
 *  since one of them near 1 no longer holds the digits of the other. */
export function logBinomialTerm(a: number, b: number, x: number, y: number): number {
  if (a === 0) return b === 0 ? 0 : b * logOfShare(y, x)
  if (b === 0) return a * logOfShare(x, y)
  if (x === 0 || y === 0) return -Infinity
  const n = a + b
  return (
    stirlingError(n) -
    stirlingError(a) -
    stirlingError(b) -
    halfDeviance(a, n * x) -
    halfDeviance(b, n * y) -
    HALF_LOG_2PI -
    0.5 * (Math.log(a) + Math.log(b / n))
  )
}

/** log of x^a y^b / B(a, b), for a, b > 0 and x + y = 1. */
export function logBetaTerm(a: number, b: number, x: number, y: number): number {
  return logBinomialTerm(a, b, x, y) + Math.log(a) + Math.log(b / (a + b))
}

/** log of a share, from its complement where that holds more digits. */
function logOfShare(share: number, complement: number): number {
  return share < 0.5 ? Math.log(share) : Math.log1p(-complement)
}

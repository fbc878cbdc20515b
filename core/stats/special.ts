import cephes from "cephes"

await cephes.compiled

/** The special functions behind every interval here, by way of the Cephes library (Moshier). Arguments are checked first,
 *  because the library answers some impossible ones with a silent 0; a result too small for a double is 0, where the
 *  library throws. Bad arguments are RangeErrors that name the value. */

/** log of the gamma function, for x > 0. */
export function logGamma(x: number): number {
  requirePositive("logGamma", "x", x)
  return cephes.lgam(x)
}

/** Regularised lower incomplete gamma P(a, x), for a > 0 and x >= 0. */
export function gammaLower(a: number, x: number): number {
  requireGammaArguments("gammaLower", a, x)
  return orOnUnderflow(() => cephes.igam(a, x), x > a ? 1 : 0)
}

/** Regularised upper incomplete gamma Q(a, x) = 1 - P(a, x), accurate where it is small. */
export function gammaUpper(a: number, x: number): number {
  requireGammaArguments("gammaUpper", a, x)
  return orOnUnderflow(() => cephes.igamc(a, x), x > a ? 0 : 1)
}

/** Below this a parameter of the beta is small: the library then multiplies two gamma functions, which overflows while the
 *  other parameter is near 170, and it takes 0 for the answer. */
const SMALL = 0.3

/** Regularised incomplete beta I_x(a, b), the lower tail, for a, b > 0 and x in [0, 1]. A small parameter is raised by 1:
 *  I_x(a, b) = I_x(a + 1, b) + x^a (1 - x)^b / (a B(a, b)). Source: Abramowitz & Stegun (1964) 26.5.16 (from memory). */
export function betaLower(a: number, b: number, x: number): number {
  requirePositive("betaLower", "a", a)
  requirePositive("betaLower", "b", b)
  if (!(x >= 0 && x <= 1)) throw new RangeError(`betaLower needs x from 0 to 1; it was given ${x}.`)
  if (x === 0 || x === 1) return x
  if (a < SMALL)
    return betaLower(a + 1, b, x) + Math.exp(a * Math.log(x) + b * Math.log1p(-x) - logABeta(a, b))
  if (b < SMALL) {
    const complement = 1 - betaLower(b, a, 1 - x)
    if (complement > 1e-6) return complement // a smaller one has lost too many digits to the subtraction
  }
  return orOnUnderflow(() => cephes.incbet(a, b, x), x > a / (a + b) ? 1 : 0)
}

/** 1 - I_x(a, b), the upper tail, accurate where it is small. */
export function betaUpper(a: number, b: number, x: number): number {
  return betaLower(b, a, 1 - x)
}

/** Quantile of the gamma distribution with this shape and scale 1: the x at which P(shape, x) = p. */
export function gammaQuantile(p: number, shape: number): number {
  requireProbability("gammaQuantile", p)
  requirePositive("gammaQuantile", "shape", shape)
  const x = orOnUnderflow(() => cephes.igami(shape, 1 - p), 0)
  if (x === 0 || p > 0.5) return x
  // The library inverts the upper tail, and 1 - p has lost digits of a small p: one Newton step on log P restores them.
  const lower = gammaLower(shape, x)
  const logDensityTimesX = shape * Math.log(x) - x - logGamma(shape)
  return x * Math.exp((Math.log(p / lower) * lower) / Math.exp(logDensityTimesX))
}

/** Quantile of the beta distribution: the x at which I_x(a, b) = p. */
export function betaQuantile(p: number, a: number, b: number): number {
  requireProbability("betaQuantile", p)
  requirePositive("betaQuantile", "a", a)
  requirePositive("betaQuantile", "b", b)
  // Near 0, I_x(a, b) is x^a / (a B(a, b)) times 1 - a (b - 1) x / (a + 1) and so on; here the terms left out are below 1e-12.
  const nearZero = Math.exp((Math.log(p) + logABeta(a, b)) / a)
  if (nearZero * (b + 1) < 1e-6) return nearZero * (1 + ((b - 1) * nearZero) / (a + 1))
  return orOnUnderflow(() => cephes.incbi(a, b, p), betaLower(a, b, 0.5) > p ? 0 : 1)
}

/** log of a B(a, b). */
function logABeta(a: number, b: number): number {
  return logGamma(a + 1) + logGamma(b) - logGamma(a + b)
}

/** Standard normal distribution function. */
export function normalCdf(z: number): number {
  if (Number.isNaN(z)) throw new RangeError("normalCdf needs a number; it was given NaN.")
  const tail = gammaUpper(0.5, (z * z) / 2) / 2
  return z < 0 ? tail : 1 - tail
}

/** Standard normal quantile. */
export function normalQuantile(p: number): number {
  requireProbability("normalQuantile", p)
  return cephes.ndtri(p)
}

function orOnUnderflow(compute: () => number, limit: number): number {
  try {
    return compute()
  } catch (error) {
    if (error instanceof Error && error.message.includes("underflow")) return limit
    throw error
  }
}

function requireGammaArguments(name: string, a: number, x: number): void {
  requirePositive(name, "a", a)
  if (!(x >= 0 && x < Infinity))
    throw new RangeError(`${name} needs a finite x of 0 or more; it was given ${x}.`)
}

function requirePositive(name: string, argument: string, value: number): void {
  if (!(value > 0 && value < Infinity)) {
    throw new RangeError(`${name} needs a finite ${argument} above 0; it was given ${value}.`)
  }
}

function requireProbability(name: string, p: number): void {
  if (!(p > 0 && p < 1))
    throw new RangeError(`${name} needs a probability between 0 and 1; it was given ${p}.`)
}

import { requireNumber, requireProbability } from "../arguments.ts"
import { gammaLogTails } from "./incompleteGamma.ts"
import { logOfComplement } from "./logTails.ts"
import { solveIncreasing } from "./quantileSearch.ts"
import { HALF_LOG_2PI } from "./saddlePoint.ts"
import { inverseNormal } from "../special.ts"

/** The standard normal distribution. Source: Abramowitz & Stegun (1964) 26.2 (from memory). */

export function normalLogDensity(z: number): number {
  requireNumber("normalLogDensity", "z", z)
  return -0.5 * z * z - HALF_LOG_2PI
}

export function normalDensity(z: number): number {
  return Math.exp(normalLogDensity(z))
}

/** log P(Z <= z). */
export function normalLogLower(z: number): number {
  requireNumber("normalLogLower", "z", z)
  const smaller = gammaLogTails(0.5, (z * z) / 2).upper - Math.LN2
  return z < 0 ? smaller : logOfComplement(smaller)
}

/** log P(Z > z). */
export function normalLogUpper(z: number): number {
  return normalLogLower(-z)
}

/** P(Z <= z), accurate where it is small. */
export function normalLower(z: number): number {
  return Math.exp(normalLogLower(z))
}

/** P(Z > z), accurate where it is small. */
export function normalUpper(z: number): number {
  return Math.exp(normalLogLower(-z))
}

/** The z at which P(Z <= z) = p. */
export function normalQuantile(p: number): number {
  requireProbability("normalQuantile", p)
  return inverseNormal(p)
}

/** The z at which log P(Z <= z) = logP, also where p is too small, or too near 1, for a double. */
export function normalQuantileFromLog(logP: number): number {
  if (!(logP < 0 && logP > -Infinity)) {
    throw new RangeError(`normalQuantileFromLog needs a finite log below 0; it was given ${logP}.`)
  }
  if (logP > -Math.LN2) return -normalQuantileFromLog(logOfComplement(logP))
  return solveIncreasing(
    (z) => {
      const lower = normalLogLower(z)
      return { value: lower - logP, slope: Math.exp(normalLogDensity(z) - lower) }
    },
    -Math.sqrt(-2 * (logP + Math.LN2)),
  )
}

import { elementsAt } from "./astronomy.ts"
import { argumentAtMidnight, constituentSpeed, nodeFactorOf, type ConstituentName } from "./constituents.ts"
import { nodeFactorsAt } from "./nodeFactors.ts"

/** One constituent of a place: amplitude in any unit, phase lag on the UTC meridian in degrees. */
export type HarmonicConstant = {
  readonly name: ConstituentName
  readonly amplitude: number
  readonly phase_deg: number
}

/** A sum of cosines ready for one calendar year: f x amplitude, radians a ms, and the angle at the year's start. */
export type YearOfCosines = {
  readonly from: number
  readonly amplitude: Float64Array
  readonly speed: Float64Array
  readonly angle: Float64Array
}

const radians = Math.PI / 180
const hourMs = 3_600_000

/** First instant of a calendar year, UTC ms. */
export const yearStart = (year: number): number => Date.UTC(year, 0, 1)

/** The calendar year of an instant in UTC. */
export const yearOf = (at: number): number => new Date(at).getUTCFullYear()

/**
 * Prepares constants for a calendar year: equilibrium arguments at its start, node factors held at its middle, as the US
 * National Ocean Service predicts. Source: Schureman (1958) US C&GS Special Publication 98; Parker (2007) NOAA Special
 * Publication NOS CO-OPS 3.
 */
export function cosinesOfYear(constants: readonly HarmonicConstant[], year: number): YearOfCosines {
  const from = yearStart(year)
  const elements = elementsAt(from)
  const kinds = nodeFactorsAt((from + yearStart(year + 1)) / 2)
  const told = constants.filter(({ amplitude }) => amplitude !== 0)
  const sum = {
    from,
    amplitude: new Float64Array(told.length),
    speed: new Float64Array(told.length),
    angle: new Float64Array(told.length),
  }
  for (const [i, { name, amplitude, phase_deg }] of told.entries()) {
    const { f, u } = nodeFactorOf(name, kinds)
    sum.amplitude[i] = f * amplitude
    sum.speed[i] = (constituentSpeed(name) * radians) / hourMs
    sum.angle[i] = ((argumentAtMidnight(name, elements) + u - phase_deg) % 360) * radians
  }
  return sum
}

/** The sum at an instant in UTC ms, in the constants' unit. */
export function sumAt({ from, amplitude, speed, angle }: YearOfCosines, at: number): number {
  let sum = 0
  for (let i = 0; i < amplitude.length; i++)
    sum += (amplitude[i] ?? 0) * Math.cos((speed[i] ?? 0) * (at - from) + (angle[i] ?? 0))
  return sum
}

/** How fast the sum changes at an instant in UTC ms, in the constants' unit a ms. */
export function slopeAt({ from, amplitude, speed, angle }: YearOfCosines, at: number): number {
  let slope = 0
  for (let i = 0; i < amplitude.length; i++) {
    const w = speed[i] ?? 0
    slope -= (amplitude[i] ?? 0) * w * Math.sin(w * (at - from) + (angle[i] ?? 0))
  }
  return slope
}

/**
 * The sum, or its slope, at every `step` ms from `start`, `count` of them. Angles are turned on from sample to sample, which
 * needs no cosine in the loop; after a year of quarter hours the rounding is below 1e-11 of an amplitude.
 */
export function sampled(
  { from, amplitude, speed, angle }: YearOfCosines,
  what: "sum" | "slope",
  start: number,
  step: number,
  count: number,
): Float64Array {
  const samples = new Float64Array(count)
  for (let i = 0; i < amplitude.length; i++) {
    const w = speed[i] ?? 0
    const turnCos = Math.cos(w * step)
    const turnSin = Math.sin(w * step)
    // The slope is the cosine a quarter turn on, times the speed.
    const size = (amplitude[i] ?? 0) * (what === "sum" ? 1 : w)
    const begins = w * (start - from) + (angle[i] ?? 0) + (what === "sum" ? 0 : Math.PI / 2)
    let cos = size * Math.cos(begins)
    let sin = size * Math.sin(begins)
    for (let k = 0; k < count; k++) {
      samples[k] = (samples[k] ?? 0) + cos
      const next = cos * turnCos - sin * turnSin
      sin = sin * turnCos + cos * turnSin
      cos = next
    }
  }
  return samples
}

import { elementsAt } from "./astronomy.ts"
import { argumentAtMidnight, constituentSpeed, nodeFactorOf, type ConstituentName } from "./constituents.ts"
import { nodeFactorsAt } from "./nodeFactors.ts"

/** One constituent of a place: amplitude in any unit, phase lag on the UTC meridian in degrees. */
export type HarmonicConstant = {
  readonly name: ConstituentName
  readonly amplitude: number
  readonly phase_deg: number
}

/** A sum of cosines ready for one calendar year: f x amplitude, radians an hour, and the angle at the year's start. */
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
    sum.speed[i] = constituentSpeed(name) * radians
    sum.angle[i] = ((argumentAtMidnight(name, elements) + u - phase_deg) % 360) * radians
  }
  return sum
}

/** A curve at one instant: its value, how fast it changes an hour, and how that changes an hour again. */
export type Motion = { readonly value: number; readonly rate: number; readonly bend: number }

/** The sum at an instant in UTC ms, in the constants' unit. */
export function motionAt({ from, amplitude, speed, angle }: YearOfCosines, at: number): Motion {
  const hours = (at - from) / hourMs
  let [value, rate, bend] = [0, 0, 0]
  for (let i = 0; i < amplitude.length; i++) {
    const w = speed[i] ?? 0
    const turned = w * hours + (angle[i] ?? 0)
    const cos = (amplitude[i] ?? 0) * Math.cos(turned)
    value += cos
    rate -= w * (amplitude[i] ?? 0) * Math.sin(turned)
    bend -= w * w * cos
  }
  return { value, rate, bend }
}

/**
 * The sum at every full hour from `start` (UTC ms), `count` of them: value, rate and bend of each in turn. Angles are turned
 * on from hour to hour, which needs no cosine in the loop; after a year the rounding is below 1e-11 of an amplitude.
 */
export function hourlyMotions(
  { from, amplitude, speed, angle }: YearOfCosines,
  start: number,
  count: number,
): Float64Array {
  const motions = new Float64Array(3 * count)
  for (let i = 0; i < amplitude.length; i++) {
    const w = speed[i] ?? 0
    const turnCos = Math.cos(w)
    const turnSin = Math.sin(w)
    const begins = (w * (start - from)) / hourMs + (angle[i] ?? 0)
    let cos = (amplitude[i] ?? 0) * Math.cos(begins)
    let sin = (amplitude[i] ?? 0) * Math.sin(begins)
    for (let k = 0; k < motions.length; k += 3) {
      motions[k] = (motions[k] ?? 0) + cos
      motions[k + 1] = (motions[k + 1] ?? 0) - w * sin
      motions[k + 2] = (motions[k + 2] ?? 0) - w * w * cos
      const next = cos * turnCos - sin * turnSin
      sin = sin * turnCos + cos * turnSin
      cos = next
    }
  }
  return motions
}

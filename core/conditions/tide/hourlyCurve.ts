import {
  cosinesOfYear,
  hourlyMotions,
  motionAt,
  yearOf,
  yearStart,
  type HarmonicConstant,
  type Motion,
  type YearOfCosines,
} from "./harmonicSum.ts"

const hourMs = 3_600_000
/**
 * How many hours before and after New Year the one year's curve passes into the next's. Ours: bare, some would jump by 13 cm,
 * most of the home coast's by 3 to 5.
 */
const passing = 3

/**
 * A mean and a sum of cosines at every full hour from `start` (UTC ms, a full hour), `count` of them: value, rate and bend of each
 * in turn, as `hourlyMotions` has them. Node factors are those of the calendar year; about New Year one year's curve passes
 * smoothly into the next's.
 */
export type HourlyCurve = (start: number, count: number) => Float64Array

/**
 * Makes the hourly curve of constants around a mean. Years are prepared when first asked for; a program that runs for weeks
 * asks for few.
 */
export function hourlyCurve(constants: readonly HarmonicConstant[], mean: number): HourlyCurve {
  const years = new Map<number, YearOfCosines>()
  const cosines = (year: number): YearOfCosines => {
    const known = years.get(year) ?? cosinesOfYear(constants, year)
    years.set(year, known)
    return known
  }
  return (start, count) => {
    const motions = new Float64Array(3 * count)
    const end = start + count * hourMs
    for (let year = yearOf(start); yearStart(year) < end; year++) {
      const from = Math.max(start, yearStart(year))
      const hours = (Math.min(end, yearStart(year + 1)) - from) / hourMs
      motions.set(hourlyMotions(cosines(year), from, hours), (3 * (from - start)) / hourMs)
    }
    for (let year = yearOf(start); year <= yearOf(end) + 1; year++)
      for (let hour = 1 - passing; hour < passing; hour++) {
        const at = yearStart(year) + hour * hourMs
        if (at < start || at >= end) continue
        const { value, rate, bend } = passed(
          motionAt(cosines(year - 1), at),
          motionAt(cosines(year), at),
          hour,
        )
        motions.set([value, rate, bend], (3 * (at - start)) / hourMs)
      }
    for (let k = 0; k < motions.length; k += 3) motions[k] = mean + (motions[k] ?? 0)
    return motions
  }
}

/**
 * Where one motion has passed into another so many hours after New Year: weighted by a quintic from 0 to 1 whose own rate
 * and bend are nothing at either end.
 */
function passed(before: Motion, after: Motion, hour: number): Motion {
  const s = (hour + passing) / (2 * passing)
  const weight = s ** 3 * (10 - 15 * s + 6 * s * s)
  const weightRate = (30 * s * s * (1 - s) ** 2) / (2 * passing)
  const weightBend = (60 * s * (1 - s) * (1 - 2 * s)) / (2 * passing) ** 2
  const value = after.value - before.value
  const rate = after.rate - before.rate
  const bend = after.bend - before.bend
  return {
    value: before.value + weight * value,
    rate: before.rate + weight * rate + weightRate * value,
    bend: before.bend + weight * bend + 2 * weightRate * rate + weightBend * value,
  }
}

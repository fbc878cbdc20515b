import { harmonicSignal, type HarmonicSignal } from "./harmonicSignal.ts"
import { yearOf, yearStart, type HarmonicConstant } from "./harmonicSum.ts"
import { withoutMinor, type Water } from "./waters.ts"

/** The predicted tide of a place over time. Instants in UTC ms, heights in metres above the place's datum. */
export type TideCurve = {
  readonly heightAt: (at: number) => number
  /** Metres an hour. */
  readonly rateAt: (at: number) => number
  /** High and low waters of the calendar year (UTC) that holds `at`, with some days before and after it. */
  readonly watersAround: (at: number) => Waters
  /** Great diurnal range: mean higher high water above mean lower low water, metres; null where unknown. */
  readonly great_diurnal_range_m: number | null
  /** Whether heights between high and low waters are interpolated rather than predicted. */
  readonly interpolated: boolean
}

/** All turning points of a curve, and those that count as tides. */
export type Waters = { readonly all: readonly Water[]; readonly tides: readonly Water[] }

const dayMs = 86_400_000
/** Waters kept beyond a year's ends, so that every instant of it has neighbours on both sides. */
const margin = 6 * dayMs

/**
 * The tide from harmonic constants: amplitudes in metres, phase lags on the UTC meridian (G) in degrees, and the mean
 * level above the datum. Source of the method: see `harmonicSum.ts`.
 */
export function harmonicTide(
  constants: readonly HarmonicConstant[],
  mean_m: number,
  great_diurnal_range_m: number | null,
): TideCurve {
  const signal = harmonicSignal(constants, mean_m)
  return {
    heightAt: signal.valueAt,
    rateAt: signal.rateAt,
    watersAround: byYear((from, to) => {
      const all = turningPoints(signal, from, to)
      return { all, tides: withoutMinor(all) }
    }),
    great_diurnal_range_m,
    interpolated: false,
  }
}

/** Works waters out a calendar year at a time, and keeps them. */
export function byYear<T>(make: (from: number, to: number, year: number) => T): (at: number) => T {
  const years = new Map<number, { readonly start: number; readonly end: number; readonly made: T }>()
  let last: { readonly start: number; readonly end: number; readonly made: T } | undefined
  return (at) => {
    if (last !== undefined && at >= last.start && at < last.end) return last.made
    const year = yearOf(at)
    last = years.get(year)
    if (last === undefined) {
      const [start, end] = [yearStart(year), yearStart(year + 1)]
      last = { start, end, made: make(start - margin, end + margin, year) }
      years.set(year, last)
    }
    return last.made
  }
}

function turningPoints(signal: HarmonicSignal, from: number, to: number): Water[] {
  return signal.crossings("rate", from, to).map(({ at, upwards, value }) => ({
    kind: upwards ? "low" : "high",
    at,
    height_m: value,
  }))
}

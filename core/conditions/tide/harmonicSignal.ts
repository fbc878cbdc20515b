import { kept } from "../stations/kept.ts"
import type { HarmonicConstant } from "./harmonicSum.ts"
import { controlsAfter, quinticAfter } from "./hermite.ts"
import { hourlyCurve } from "./hourlyCurve.ts"
import {
  derivative,
  rootBetween,
  rootsWithin,
  signChanges,
  slopeOf,
  valueOf,
  type Polynomial,
} from "./polynomial.ts"

/**
 * A predicted curve of a place over time: a mean and a sum of cosines. The sum is worked out at every full hour, with its
 * first two derivatives, and a quintic drawn between: of the stations that ship that is within 0.16 mm of the tide and 0.4
 * mm/s of the current everywhere, for half of them within 0.003 mm and 0.03 mm/s (tests/unit/conditions).
 */
export type HarmonicSignal = {
  /** The value at an instant in UTC ms, in the constants' unit. */
  readonly valueAt: (at: number) => number
  /** Its change in units an hour. */
  readonly rateAt: (at: number) => number
  /** Every instant from `from` to before `to`, full hours, at which the value, or the rate, passes zero. */
  readonly crossings: (what: "value" | "rate", from: number, to: number) => Crossing[]
}

/** Where a curve passes zero: upwards, or downwards; and the value there. In whole milliseconds. */
export type Crossing = { readonly at: number; readonly upwards: boolean; readonly value: number }

const hourMs = 3_600_000
/** Hours worked out together, some thirty days, and how many such blocks a curve keeps: ten years. */
const blockHours = 720
const blocksKept = 122

/** The curve of constants around a mean of the same unit. */
export function harmonicSignal(constants: readonly HarmonicConstant[], mean: number): HarmonicSignal {
  const hourly = hourlyCurve(constants, mean)
  const blocks = kept<number, Float64Array>(blocksKept)
  /** The hours of a block, counted from 1970, with the first of the next. */
  const knotsOf = (block: number): Float64Array =>
    blocks(block, () => hourly(block * blockHours * hourMs, blockHours + 1))
  /** The curve within an hour, as a polynomial of the part of the hour that has passed. */
  const during = (hour: number): Polynomial => {
    const block = Math.floor(hour / blockHours)
    return quinticAfter(knotsOf(block), hour - block * blockHours)
  }
  return {
    valueAt: (at) => {
      const hour = Math.floor(at / hourMs)
      return valueOf(during(hour), at / hourMs - hour)
    },
    rateAt: (at) => {
      const hour = Math.floor(at / hourMs)
      return slopeOf(during(hour), at / hourMs - hour)
    },
    crossings: (what, from, to) => {
      const order = what === "value" ? 0 : 1
      const controls = new Float64Array(6 - order)
      const found: Crossing[] = []
      const end = to / hourMs
      for (let hour = from / hourMs; hour < end;) {
        const block = Math.floor(hour / blockHours)
        const first = block * blockHours
        const knots = knotsOf(block)
        const next = Math.min(end, first + blockHours)
        for (; hour < next; hour++) {
          const k = hour - first
          controlsAfter(knots, k, order, controls)
          const most = signChanges(controls)
          if (most === 0) continue
          const curve = quinticAfter(knots, k)
          for (const { x, upwards } of passages(curve, order, controls, most))
            found.push({ at: Math.round((hour + x) * hourMs), upwards, value: valueOf(curve, x) })
        }
      }
      return found
    },
  }
}

/** How near a crossing is found, hours: a tenth of a millisecond. */
const within = 0.1 / hourMs

/**
 * Where a curve's value (order 0) or rate (1) passes zero from 0 to 1, `most` times at most. The first and the last of its
 * control points are its values there: the next hour begins as this one ends, whatever rounding makes of either.
 */
function passages(curve: Polynomial, order: 0 | 1, controls: Float64Array, most: number): Passage[] {
  const sought = order === 0 ? curve : derivative(curve)
  const [above, endsAbove] = [(controls[0] ?? 0) >= 0, (controls.at(-1) ?? 0) >= 0]
  const turns = most === 1 ? [] : rootsWithin(derivative(sought), within)
  const found: Passage[] = []
  let [from, was] = [0, above]
  for (const to of [...turns, 1]) {
    const upwards = to === 1 ? endsAbove : valueOf(sought, to) >= 0
    if (upwards !== was) found.push({ x: rootBetween(sought, from, to, upwards, within), upwards })
    ;[from, was] = [to, upwards]
  }
  return found
}

type Passage = { readonly x: number; readonly upwards: boolean }

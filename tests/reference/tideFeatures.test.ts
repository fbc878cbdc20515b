// Stage, phase, minutes, rate, range and spring-neap index of the tide: cases of 03-tide-features.json, from curves of
// 02-tides-harmonic.json, each within its own tolerance.
import { expect, test } from "vitest"
import { z } from "zod"
import { tideAt } from "../../core/conditions/tide/tideState.ts"
import { skyCases } from "./skyCases.ts"
import { curveOfCase, instant, waterKind } from "./tideCases.ts"

const water = z.object({ utc: instant, type: waterKind, height_m: z.number() }).optional()
const Feature = z.object({
  id: z.string(),
  inputs: z.object({ constituents_of_case: z.string(), utc: instant, great_diurnal_range_m: z.number() }),
  expected: z.object({
    height_m: z.number(),
    rate_m_per_h: z.number(),
    previous: water,
    next: water,
    phase_rad: z.number().nullable(),
    stage: z.string().nullable(),
    limb_range_m: z.number().optional(),
    range_index: z.number(),
  }),
  tolerance: z.object({
    height_cm: z.number(),
    rate_m_per_h: z.number(),
    turning_time_min: z.number(),
    phase_rad: z.number(),
    range_cm: z.number(),
    range_index: z.number(),
  }),
})

const features = skyCases("03-tide-features", "tide-features", Feature)

test.each(features.filter(({ expected }) => expected.phase_rad !== null))(
  "$id",
  ({ inputs, expected, tolerance }) => {
    const curve = curveOfCase(inputs.constituents_of_case, undefined, inputs.great_diurnal_range_m)
    const tide = tideAt(curve, inputs.utc)
    const near = (got: number | null | undefined, want: number | null | undefined, within: number) =>
      expect(Math.abs((got ?? Number.NaN) - (want ?? Number.NaN))).toBeLessThan(within)
    near(tide.height_m, expected.height_m, tolerance.height_cm / 100)
    near(tide.rate_m_h, expected.rate_m_per_h, tolerance.rate_m_per_h)
    near(tide.spring_neap, expected.range_index, tolerance.range_index)
    expect(tide.stage).toBe(expected.stage)
    near(tide.phase_rad, expected.phase_rad, tolerance.phase_rad)
    near(tide.range_m, expected.limb_range_m, tolerance.range_cm / 100)
    for (const [own, told] of [
      [tide.previous, expected.previous],
      [tide.next, expected.next],
    ] as const) {
      expect(own?.kind).toBe(told?.type)
      near(own?.at, told?.utc, tolerance.turning_time_min * 60_000)
      near(own?.height_m, told?.height_m, tolerance.height_cm / 100)
    }
  },
)

test.each(features.filter(({ expected }) => expected.phase_rad === null))(
  "$id: a tide too small to tell high from low water has neither stage nor phase",
  ({ inputs, expected, tolerance }) => {
    const curve = curveOfCase(inputs.constituents_of_case, undefined, inputs.great_diurnal_range_m)
    const { height_m, rate_m_h, spring_neap, ...rest } = tideAt(curve, inputs.utc)
    expect(Math.abs(height_m - expected.height_m)).toBeLessThan(tolerance.height_cm / 100)
    expect(Math.abs(rate_m_h - expected.rate_m_per_h)).toBeLessThan(tolerance.rate_m_per_h)
    expect(Math.abs((spring_neap ?? 0) - expected.range_index)).toBeLessThan(tolerance.range_index)
    expect(rest).toEqual({
      stage: null,
      part: null,
      phase_rad: null,
      range_m: null,
      previous: null,
      next: null,
    })
  },
)

// Traps met in tide libraries, and subordinate stations by hand: cases of 14-tide-traps.json. Its cosine rule between a low and
// a high is not the rule used here, which draws the reference's own curve to fit, as the case's note allows: what is checked is
// that ours stays within the cosine's own stated error of it, and ends where it ends. A subordinate station in another datum
// than the reference's cannot be asked for: `datum` is an answer here, never a wish.
import { expect, test } from "vitest"
import { z } from "zod"
import { stationsWith } from "../../core/conditions/stations/stations.ts"
import { readConstants } from "../../core/conditions/stations/readConstants.ts"
import { shiftedTide } from "../../core/conditions/tide/shiftedTide.ts"
import { skyCases } from "./skyCases.ts"
import { curveOfCase, instant, nearestWater, waterKind } from "./tideCases.ts"

const stations = stationsWith([])
const trap = <S extends z.ZodType>(id: string, schema: S): z.infer<S> => {
  const found = [
    ...skyCases("14-tide-traps", "tide-trap", z.looseObject({ id: z.string() })),
    ...skyCases("14-tide-traps", "tide-subordinate", z.looseObject({ id: z.string() })),
    ...skyCases("14-tide-traps", "tide-subordinate-curve", z.looseObject({ id: z.string() })),
  ].find((one) => one.id === id)
  return schema.parse(found)
}
const side = z
  .object({ minutes: z.number(), ratio: z.number() })
  .transform((told) => ({ ...told, plus_m: 0 }))

test("the height is that of the instant, not of the last ten minutes", () => {
  const { inputs, expected, tolerance } = trap(
    "trap-exact-instant",
    z.object({
      inputs: z.object({ constituents_of_case: z.string(), utc: z.array(instant) }),
      expected: z.object({ height_m: z.array(z.number()) }),
      tolerance: z.object({ height_cm: z.number(), difference_first_to_last_cm: z.number() }),
    }),
  )
  const curve = curveOfCase(inputs.constituents_of_case)
  const heights = inputs.utc.map((at) => curve.heightAt(at))
  for (const [i, height] of heights.entries())
    expect(Math.abs(height - (expected.height_m[i] ?? 0)) * 100).toBeLessThan(tolerance.height_cm)
  const fall = (told: readonly number[]) => ((told[0] ?? 0) - (told.at(-1) ?? 0)) * 100
  expect(Math.abs(fall(heights) - fall(expected.height_m))).toBeLessThan(
    tolerance.difference_first_to_last_cm,
  )
})

test("a subordinate station tells its heights above its reference's datum, and no other", () => {
  const { inputs, expected } = trap(
    "trap-subordinate-datum",
    z.object({
      inputs: z.object({ station: z.string() }),
      expected: z.object({ datums_allowed: z.array(z.string()) }),
    }),
  )
  expect(expected.datums_allowed).toEqual([stations.tide(inputs.station.replace("noaa/", ""))?.datum])
})

test("the nearest tide station is a tide station", () => {
  const { inputs, expected } = trap(
    "trap-nearest",
    z.object({
      inputs: z.object({ lat: z.number(), lon: z.number(), max: z.int() }),
      expected: z.object({ first_tide: z.string() }),
    }),
  )
  const near = stations.nearest("tide", inputs, inputs.max)
  expect(near[0]?.station.id).toBe(expected.first_tide.replace("noaa/", ""))
  expect(near.map(({ station }) => station.kind)).toEqual(near.map(() => "tide"))
  expect(
    stations.nearest("current", inputs, inputs.max).every(({ station }) => station.kind === "current"),
  ).toBe(true)
})

test("a constituent nobody knows is an error that names it", () => {
  const bytes = new TextEncoder().encode("name,amplitude_m,phase_deg_gmt\nM2,1,0\nNOPE,1,0\n")
  expect(() => readConstants({ name: "mine.csv", bytes }, "tide")).toThrow(/mine\.csv: Line 3 .*"NOPE"/)
})

test("high and low waters of a subordinate station by its offsets, as by hand", () => {
  const { inputs, expected, tolerance } = trap(
    "subordinate-8675843",
    z.object({
      inputs: z.object({ reference_case: z.string(), offsets: z.object({ high: side, low: side }) }),
      expected: z.object({
        events: z.array(z.object({ utc: instant, type: waterKind, height_m: z.number() })),
      }),
      tolerance: z.object({ seconds: z.number(), height_cm: z.number() }),
    }),
  )
  const curve = shiftedTide(curveOfCase(inputs.reference_case), inputs.offsets)
  for (const { utc, type, height_m } of expected.events) {
    const own = nearestWater(curve.watersAround(utc).tides, { at: utc, kind: type })
    expect(Math.abs(own.at - utc) / 1000).toBeLessThan(tolerance.seconds)
    expect(Math.abs(own.height_m - height_m) * 100).toBeLessThan(tolerance.height_cm)
    expect(curve.heightAt(own.at)).toBeCloseTo(own.height_m, 9)
  }
})

test("between waters a subordinate curve is its reference's own drawn to fit, within the cosine rule's own error of that", () => {
  const end = z.object({ utc: instant, height_m: z.number() })
  const { inputs, expected } = trap(
    "subordinate-cosine",
    z.object({ inputs: z.object({ from: end, to: end }), expected: z.object({ rows: z.array(end) }) }),
  )
  const offsets = trap(
    "subordinate-8675843",
    z.object({ inputs: z.object({ offsets: z.object({ high: side, low: side }) }) }),
  )
  const reference = curveOfCase("tide-comp-8670870-20261025")
  const { low, high } = offsets.inputs.offsets
  const curve = shiftedTide(reference, { low, high })
  // By hand, the other rule that the case allows: time and height stretched evenly between the low and the high. The ends are
  // rounded to a second and a tenth of a millimetre, which a rise of 0.7 m/h makes 0.3 mm of height.
  const { from, to } = inputs
  const [refFrom, refTo] = [from.utc - low.minutes * 60_000, to.utc - high.minutes * 60_000]
  const [refLow, refHigh] = [from.height_m / low.ratio, to.height_m / high.ratio]
  for (const { utc } of expected.rows) {
    const known = reference.heightAt(refFrom + ((utc - from.utc) / (to.utc - from.utc)) * (refTo - refFrom))
    const drawn = from.height_m + ((known - refLow) / (refHigh - refLow)) * (to.height_m - from.height_m)
    expect(Math.abs(curve.heightAt(utc) - drawn)).toBeLessThan(0.0005)
  }
  // The case: at Fort Pulaski the cosine rule errs by 5.8 cm rms and 16.9 cm at worst over a year.
  for (const { utc, height_m } of expected.rows)
    expect(Math.abs(curve.heightAt(utc) - height_m)).toBeLessThan(0.169)
})

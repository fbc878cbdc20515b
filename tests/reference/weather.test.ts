// Cases in cases/conditions/09-water-weather.json: WMO-No. 306, WMO-No. 8, US FMH-1, Preisendorfer (1986), the Venice System
// (1958), UNESCO Technical Papers in Marine Science 44 (1983), all from memory,
// as the entries say. Scales and classes are compared exactly.
import { expect, test } from "vitest"
import { z } from "zod"
import { practicalSalinity } from "../../core/exchange/station/practicalSalinity.ts"
import { readFactor } from "../../core/exchange/read/factorCell.ts"
import type { FactorId } from "../../shared/factors.ts"
import { salinityWords, salinityZones } from "../../shared/salinity.ts"
import { convert } from "../../shared/units.ts"
import { beaufort, forceOf, oktasOfPercent, pointOf, skyCover, tendencyOf } from "../../shared/weather.ts"
import { readCaseFile } from "./case.ts"

const cases = z
  .array(z.object({ id: z.string(), inputs: z.unknown(), expected: z.unknown() }))
  .parse(JSON.parse(readCaseFile("conditions/09-water-weather.json")))
const caseOf = (id: string) => {
  const found = cases.find((one) => one.id === id)
  if (found === undefined) throw new Error(`no case ${id}`)
  return found
}

/** The number that a cell of a column is read as, or why it is not read. */
const cell = (id: FactorId, text: string): number | string => {
  const found = readFactor(id, null, text, false)
  return found.kind === "read" ? found.value : found.reason
}

const Ends = z.tuple([z.number(), z.number().nullable()])
const Scale = z.object({
  rows: z.array(z.object({ force: z.number(), name: z.string(), knots: Ends, m_per_s: Ends })),
})
const { rows: scale } = Scale.parse(caseOf("wx-beaufort").expected)

test("the Beaufort scale is the printed one", () => {
  expect(beaufort.map(({ name, knots, ms }, at) => ({ force: at, name, knots, m_per_s: ms }))).toEqual(scale)
})

test("speeds are classed by limits half way between the printed knots", () => {
  const { inputs, expected } = caseOf("wx-beaufort-classify")
  const { knots } = z.object({ knots: z.array(z.number()) }).parse(inputs)
  expect({ force: knots.map((speed) => forceOf(convert(speed, "kn", "ms"))) }).toEqual(expected)
})

test("a force, however written, is the middle of its class, which is classed as that force again", () => {
  const written = (force: number, name: string) => [`F${force}`, `${force} Bft`, `force ${force}`, name]
  const closed = scale.flatMap(({ force, name, m_per_s: [from, upTo] }) =>
    upTo === null ? [] : [{ force, name, from, upTo }],
  )
  expect(closed).toHaveLength(12)
  for (const { force, name, from, upTo } of closed)
    for (const text of written(force, name)) {
      const got = Number(cell("wind_speed_ms", text))
      // Only rounding is left: the speeds are below 33 m/s.
      expect(got, text).toBeCloseTo((from + upTo) / 2, 12)
      expect(forceOf(got)).toBe(force)
      // v = 0.836 B^1.5, the formula beside the cases, lies in the class, so no further off than half its width.
      expect(Math.abs(got - 0.836 * force ** 1.5)).toBeLessThanOrEqual((upTo - from) / 2)
    }
  for (const text of written(12, "hurricane"))
    expect(cell("wind_speed_ms", text)).toBe("force 12 has no upper end, so no middle: write the speed")
})

test("directions are named by the nearest of sixteen points, and a point is read as its middle", () => {
  const { inputs, expected } = caseOf("wx-wind-direction")
  const { degrees } = z.object({ degrees: z.array(z.number()) }).parse(inputs)
  const { sixteen_points } = z.object({ sixteen_points: z.array(z.string()) }).parse(expected)
  expect(degrees.map(pointOf)).toEqual(sixteen_points)
  for (const [at, point] of sixteen_points.entries()) {
    const read = Number(cell("wind_dir_deg", point))
    const apart = Math.abs(((degrees[at] ?? NaN) - read + 540) % 360) - 180
    expect(Math.abs(apart)).toBeLessThanOrEqual(11.25)
  }
})

const cloud = z
  .object({
    okta: z.record(z.string(), z.string()),
    fmh1: z.record(z.string(), z.tuple([z.number(), z.number()])),
    percent_to_okta: z.array(z.tuple([z.number(), z.number()])),
  })
  .parse(caseOf("wx-cloud").expected)

test("words for the sky are the middle of their oktas", () => {
  expect(Object.fromEntries(skyCover.map(({ code, oktas }) => [code, oktas]))).toEqual(cloud.fmh1)
  for (const [code, [from, upTo]] of Object.entries(cloud.fmh1))
    expect([code, cell("cloud_okta", code)]).toEqual([code, (from + upTo) / 2])
  for (const okta of [0, 8]) expect(cell("cloud_okta", cloud.okta[okta] ?? "")).toBe(okta)
})

test("per cent of the sky are oktas, 0 and 8 only for none and all of it", () => {
  for (const [percent, okta] of cloud.percent_to_okta) {
    expect([percent, cell("cloud_okta", `${percent}%`)]).toEqual([percent, okta])
    expect(oktasOfPercent(percent)).toBe(okta)
  }
})

test("the change of the barometer in three hours has the word of the code table", () => {
  const { inputs, expected } = caseOf("wx-tendency")
  const { hPa_t_minus_3h_minus_90min_now: readings } = z
    .object({ hPa_t_minus_3h_minus_90min_now: z.array(z.tuple([z.number(), z.number(), z.number()])) })
    .parse(inputs)
  const words = readings.map(([before, , now]) => tendencyOf(now - before).split(" ")[0])
  expect(words).toEqual(z.object({ word: z.array(z.string()) }).parse(expected).word)
})

// The notes of the same entry, UK Met Office marine glossary (from memory): slowly 0.1 to 1.5, plain 1.6 to 3.5, quickly 3.6 to
// 6.0, very rapidly above 6.0 hPa.
test.each([
  [-0.04, "steady"],
  [0.1, "rising slowly"],
  [-1.5, "falling slowly"],
  [-1.6, "falling"],
  [3.5, "rising"],
  [-3.6, "falling quickly"],
  [6, "rising quickly"],
  [-6.1, "falling very rapidly"],
])("%f hPa in three hours is %s", (change, word) => {
  expect(tendencyOf(change)).toBe(word)
})

test("the Secchi depth is the mean of where the disc is lost and where it comes back", () => {
  const { inputs, expected } = caseOf("water-secchi")
  const { disappears_m, reappears_m } = z
    .object({ disappears_m: z.number(), reappears_m: z.number() })
    .parse(inputs)
  const { secchi_m } = z.object({ secchi_m: z.number() }).parse(expected)
  // The case's tolerance is a millimetre; the column is in centimetres.
  expect(cell("secchi_cm", `${disappears_m}/${reappears_m} m`)).toBeCloseTo(secchi_m * 100, 1)
})

test("salinities have the words of the Venice System", () => {
  const { limits_psu } = z
    .object({ limits_psu: z.array(z.tuple([z.string(), z.number(), z.number().nullable()])) })
    .parse(caseOf("water-salinity-zones").expected)
  expect(limits_psu).toHaveLength(salinityZones.length)
  for (const [zone, from, below] of limits_psu) {
    const middle = (from + (below ?? 50)) / 2
    for (const psu of [from, middle]) expect(salinityWords(psu), `${psu}`).toContain(`(${zone})`)
    expect(salinityWords(from, below ?? 99), `from ${from}`).toMatch(
      below === null ? /\(\w+\)$/ : / to \w+\)$/,
    )
  }
  expect(salinityWords(12, 25)).toBe("brackish (mesohaline to polyhaline)")
  expect(salinityWords(0.2, 33)).toBe("fresh to sea water (limnetic to euhaline)")
})

test("practical salinity has the check values of UNESCO 44", () => {
  const { inputs, expected } = caseOf("water-pss78")
  const { R_t_p } = z.object({ R_t_p: z.array(z.tuple([z.number(), z.number(), z.number()])) }).parse(inputs)
  const { S } = z.object({ S: z.array(z.number()) }).parse(expected)
  expect(R_t_p).toHaveLength(3)
  // The case's tolerance is 1e-5.
  for (const [at, [ratio, celsius, decibars]] of R_t_p.entries())
    expect(Math.abs((practicalSalinity(ratio, celsius, decibars) ?? NaN) - (S[at] ?? NaN))).toBeLessThan(1e-5)
  for (const [ratio, celsius] of [
    [0.02, 15],
    [1.3, 15],
    [1, 36],
    [0.5, -3],
  ] as const)
    expect(practicalSalinity(ratio, celsius, 0)).toBeNull()
})

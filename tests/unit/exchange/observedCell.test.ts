// How people write weather in tables: common practice, no source. The scales themselves: tests/reference/weather.test.ts.
import { expect, test } from "vitest"
import { readFactor } from "../../../core/exchange/read/factorCell.ts"
import { observedCells } from "../../../core/exchange/read/observedCell.ts"
import type { FactorId } from "../../../shared/factors.ts"
import type { UnitId } from "../../../shared/units.ts"
import { holding, near, readLines, refusalsOf } from "./reading.ts"

const cell = (id: FactorId, text: string, unit: UnitId | null = null, decimalComma = false) => {
  const found = readFactor(id, unit, text, decimalComma)
  return found.kind === "read" ? found.value : found.reason
}

test.each([
  "F4",
  "f 4",
  "Bft 4",
  "bf.4",
  "force 4",
  "Force4",
  "Beaufort 4",
  "Beaufort force 4",
  "4 Bft",
  "4bft.",
])("%s is the middle of force 4", (text) => {
  expect(cell("wind_speed_ms", text)).toEqual(near(6.7))
  expect(cell("wind_speed_ms", text, "kn")).toEqual(near(6.7))
})

test.each(["F3-4", "F3-F4", "force 3 to 4", "3–4 Bft"])("%s is the middle of both forces", (text) => {
  expect(cell("wind_speed_ms", text)).toEqual(near((3.4 + 7.9) / 2))
})

test("names of the Beaufort scale are read whatever their case, spaces and hyphens", () => {
  expect(cell("wind_speed_ms", "Gentle  Breeze")).toEqual(near(4.4))
  expect(cell("wind_speed_ms", "near-gale")).toEqual(near(15.5))
})

test.each([
  ["10-15 kn", null, 12.5 * (1852 / 3600)],
  ["10 kn - 15 kn", null, 12.5 * (1852 / 3600)],
  ["10 – 15", "kn", 12.5 * (1852 / 3600)],
  ["5 to 10 mph", null, 7.5 * 0.44704],
  ["3 1/2 m/s", null, 3.5],
  ["1e-3 m/s", null, 0.001],
] as const)("a wind of %s is its middle in m/s", (text, unit, value) => {
  expect(cell("wind_speed_ms", text, unit)).toEqual(near(value))
})

test("a range reads its decimal sign as the rest of the table does", () => {
  expect(cell("wind_speed_ms", "2,5-3,5 m/s", null, true)).toEqual(near(3))
  expect(cell("wind_speed_ms", "2,5-3,5 m/s")).toEqual(holding("decimal or thousands"))
})

test.each([
  ["breezy", "is neither a speed nor a Beaufort force"],
  ["calm to light", "is neither a speed"],
  ["F13", "forces 0 to 12"],
  ["F4-3", "the lower one first"],
  ["F12", "no upper end"],
  ["hurricane", "no upper end"],
  ["F11-12", "no upper end"],
  ["15-10 kn", "the lower first"],
  ["10-15", "no unit"],
  ["10-15 kg", "not a unit of speed"],
  ["10 gusting 15 kn", '"gusting" is not a unit of speed'],
  ["4", "no unit"],
  ["F99 Bft", "not a number"],
  ["150 m/s", "at most 100"],
])("a wind of %s is refused", (text, reason) => {
  expect(cell("wind_speed_ms", text)).toEqual(holding(reason))
})

test.each([
  ["N", 0],
  [" sw ", 225],
  ["NNW", 337.5],
  ["N.E.", 45],
  ["north-east", 45],
  ["North North East", 22.5],
  ["west-southwest", 247.5],
  ["from NE", 45],
  ["from the south east", 135],
  ["westerly", 270],
  ["SW wind", 225],
  ["southerly winds", 180],
  ["W wind", 270],
  ["45", 45],
  ["from 45°", 45],
])("a wind direction of %j is %d degrees", (text, degrees) => {
  expect(cell("wind_dir_deg", text)).toBe(degrees)
})

test.each(["up", "wind", "variable", "to NE", "NO", "N to NE", "NEE", "north by east"])(
  "a wind direction of %s is refused",
  (text) => {
    expect(cell("wind_dir_deg", text)).toEqual(holding(`"${text}" is neither degrees nor a compass point`))
  },
)

test("a wind direction beyond the round is refused", () => {
  expect(cell("wind_dir_deg", "361")).toEqual(holding("at most 360"))
})

test.each([
  ["3", 3],
  ["3/8", 3],
  ["3.5 / 8", 3.5],
  ["3/8 oktas", 3],
  ["3 oktas", 3],
  ["4/10", 3],
  ["10/10", 8],
  ["0 %", 0],
  ["40%", 3],
  ["few", 1.5],
  ["Bkn", 6],
  ["scattered", 3.5],
  ["Overcast", 8],
  ["clear", 0],
])("a cloud cover of %j is %d oktas", (text, oktas) => {
  expect(cell("cloud_okta", text)).toBe(oktas)
})

test.each([
  ["grey", "is neither oktas, per cent nor one of clear, few, scattered, broken, overcast"],
  ["120%", "more than all of the sky"],
  ["11/10", "more than all of the sky"],
  ["3/4", "neither eighths"],
  ["40", "at most 9"],
  ["x%", "not a number"],
])("a cloud cover of %j is refused", (text, reason) => {
  expect(cell("cloud_okta", text)).toEqual(holding(reason))
})

test.each([
  ["1.6/1.4 m", 150],
  ["1.6 m / 1.4 m", 150],
  ["160 cm / 1.4 m", 150],
  ["5 ft / 4 ft", 4.5 * 30.48],
  ["1.5 m", 150],
  ["3/4 m", 75],
  ["1 1/2 ft", 45.72],
])("a Secchi depth of %s is %d cm", (text, depth) => {
  expect(cell("secchi_cm", text)).toEqual(near(depth))
})

test("two whole Secchi depths that may be a fraction are asked about, and units are wanted as ever", () => {
  expect(cell("secchi_cm", "5/4 ft")).toBe('"5/4 ft" may be two depths or a fraction: write "5 ft / 4 ft"')
  expect(cell("secchi_cm", "1.6/1.4")).toEqual(holding("no unit"))
  expect(cell("secchi_cm", "1.6/1.4", "m")).toEqual(near(150))
  expect(cell("secchi_cm", "1.6/1.4 kg")).toEqual(holding("not a unit of length"))
})

test("weather in words is read from a table, and a word that is unclear is refused with its line", async () => {
  const read = await readLines([
    "date,hours,wind speed,wind direction,cloud_okta,secchi_m",
    "2026-05-15,3,F4,NE,BKN,1.6/1.4",
    "2026-05-16,3,breezy,E,2,1.5",
  ])
  expect(read.rows.map(({ factors }) => Object.fromEntries(factors))).toEqual([
    { wind_speed_ms: near(6.7), wind_dir_deg: 45, cloud_okta: 6, secchi_cm: near(150) },
  ])
  expect(refusalsOf(read)).toEqual([
    '3 wind speed: "breezy" is neither a speed nor a Beaufort force (F4, 4 Bft, moderate breeze)',
  ])
})

test("a cell as long as a book takes no time to refuse", () => {
  for (const id of ["wind_speed_ms", "wind_dir_deg", "cloud_okta", "secchi_cm"] as const)
    for (const filling of [" ", "1", "a", "1 ", "/", "-"])
      expect(cell(id, `1${filling.repeat(200_000)}x`)).toEqual(expect.any(String))
}, 5000)

test("what each such column may hold besides numbers is told in words", () => {
  expect(Object.keys(observedCells)).toEqual(["wind_speed_ms", "wind_dir_deg", "cloud_okta", "secchi_cm"])
  for (const { besides } of Object.values(observedCells)) expect(besides).not.toBe("")
})

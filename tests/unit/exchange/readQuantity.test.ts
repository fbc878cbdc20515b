// How people write numbers: common practice, no source. Conversions: tests/reference/units.test.ts.
import { expect, test } from "vitest"
import { holding, near } from "./reading.ts"
import {
  readMinutes,
  readParts,
  readPlainNumber,
  readQuantity,
} from "../../../core/exchange/read/quantity.ts"
import { readFactor } from "../../../core/exchange/read/factorCell.ts"

test.each([
  ["4", 240],
  ["4 h", 240],
  ["3.5 hrs", 210],
  ["3h30", 210],
  ["4h00", 240],
  ["3 h 30 min", 210],
  ["1 1/2 h", 90],
  ["120 min", 120],
  ["5:00", 300],
  ["0:22:30", 22.5],
  ["90 m", 90],
  ["45 s", 0.75],
])("an effort of %s in a column of hours is %d minutes", (text, minutes) => {
  expect(readMinutes(text, "h", false)).toEqual({ kind: "read", value: minutes })
})

test.each([
  ["90", 90],
  ["1 h", 60],
  ["1:30:00", 90],
])("an effort of %s in a column of minutes is %d minutes", (text, minutes) => {
  expect(readMinutes(text, "min", false)).toEqual({ kind: "read", value: minutes })
})

test.each(["NaN", "two", "3h30x", "5 miles", "30 min 2 h", "3 4", "1/0", "-", "h"])(
  "%s is no effort",
  (text) => {
    expect(readMinutes(text, "h", false).kind).toBe("refused")
  },
)

test("two parts in a column of minutes may be minutes and seconds: refused", () => {
  expect(readMinutes("5:00", "min", false)).toMatchObject({
    kind: "refused",
    reason: holding("minutes and seconds"),
  })
})

test("1e3 is a number; what no number is, or is too large for one, is not", () => {
  expect(readPlainNumber("1e3", false)).toEqual({ kind: "read", value: 1000 })
  expect(readPlainNumber("−2.5", false)).toEqual({ kind: "read", value: -2.5 })
  for (const text of ["NaN", "Infinity", "1e999", "0x10", "two", "5/0", "1 2", "3 ft", "1.2.3", "--1"]) {
    expect(readPlainNumber(text, false).kind).toBe("refused")
  }
})

test("a comma is a decimal sign only where the table uses it so", () => {
  expect(readPlainNumber("4,75", true)).toEqual({ kind: "read", value: 4.75 })
  expect(readPlainNumber("4,75", false)).toMatchObject({
    reason: holding("decimal or thousands"),
  })
  expect(readPlainNumber("1.500", true)).toMatchObject({
    reason: holding("decimal or thousands"),
  })
  expect(readPlainNumber("1.234,5", true).kind).toBe("refused")
})

test("a bare number needs a unit from somewhere, unless there is only one in use", () => {
  expect(readQuantity("4", "m", null, false)).toEqual({
    kind: "refused",
    reason: "no unit in the cell or the header and none chosen",
  })
  expect(readQuantity("4", "m", "ft", false)).toEqual({ kind: "read", value: 4 * 0.3048 })
  expect(readQuantity("4 m", "m", "ft", false)).toEqual({ kind: "read", value: 4 })
  expect(readQuantity("4", "s", null, false)).toEqual({ kind: "read", value: 4 })
})

test("a unit of another dimension is refused by its name", () => {
  expect(readQuantity("4 kg", "m", null, false)).toEqual({
    kind: "refused",
    reason: '"kg" is not a unit of length',
  })
})

test("two parts add up, but not for temperatures", () => {
  expect(readQuantity(`5' 6"`, "m", null, false)).toMatchObject({ value: near(66 * 0.0254) })
  expect(readQuantity("50 F 2 F", "c", null, false).kind).toBe("refused")
})

test("hook sizes are not numbers", () => {
  expect(readParts("5/0", false)).toEqual({ kind: "refused", reason: "5/0 is a hook size, not a number" })
})

test.each([
  ["water_temp_c", "120", "120 °C is too large: it must be at most 45 °C"],
  ["head_weight_g", "-1/4 oz", "-7.08738 g is too small: it must be at least 0 g"],
  ["pause_s", "-1", "-1 s is too small: it must be at least 0 s"],
  ["moon_illum", "2", "2 is too large: it must be at most 1"],
  ["hour_local", "24", "24 is too large: it must be less than 24"],
] as const)("%s of %s cannot be stored, and why", (id, text, reason) => {
  expect(readFactor(id, id === "water_temp_c" ? "c" : null, text, false)).toEqual({ kind: "refused", reason })
})

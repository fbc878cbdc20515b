import fc from "fast-check"
import { expect, test } from "vitest"
import { readQuantity } from "../../../core/exchange/read/quantity.ts"
import {
  decimalsForCuts,
  presets,
  quantityText,
  readerUnit,
  ReaderUnits,
} from "../../../shared/readerUnits.ts"
import { convert, units, type UnitId } from "../../../shared/units.ts"

test("what is not chosen is metric, and nothing chosen is metric throughout", () => {
  expect(ReaderUnits.parse({})).toEqual(presets.metric)
  expect(ReaderUnits.parse({ temperature: "f" })).toEqual({ ...presets.metric, temperature: "f" })
  expect(ReaderUnits.parse(presets.us)).toEqual(presets.us)
  expect(ReaderUnits.safeParse({ temperature: "k" }).success).toBe(false)
})

test("every choice is a unit of what it stands for", () => {
  const stored: readonly UnitId[] = ["c", "ms", "hpa", "m", "m_h", "cm", "mm", "g", "kg", "n"]
  const all = Object.entries(ReaderUnits.shape).map(([kind, choice]) => ({
    kind,
    choices: choice.unwrap().options,
  }))
  const every = all.flatMap(({ kind, choices }) =>
    choices.map((chosen) => ReaderUnits.parse({ ...presets.metric, [kind]: chosen })),
  )
  expect(every.length).toBeGreaterThan(20)
  for (const reader of every)
    for (const unit of stored)
      expect(units[readerUnit(unit, reader)].dimension, unit).toBe(units[unit].dimension)
})

test.each([
  // Freezing and boiling point; the Celsius and Fahrenheit scales meet at -40: NIST SP 811 (2008) B.9 (from memory).
  [0, "c", "0.0 °C", "32.0 °F"],
  [100, "c", "100.0 °C", "212.0 °F"],
  [-40, "c", "-40.0 °C", "-40.0 °F"],
  // Standard atmosphere, ICAO Doc 7488 (from memory): 1013.25 hPa, 29.92 inHg.
  [1013.25, "hpa", "1013.3 hPa", "29.92 inHg"],
  // 1 knot is 1852/3600 m/s, 1 foot 0.3048 m, 1 inch 25.4 mm, 1 ounce 28.349523125 g, 1 pound 0.45359237 kg,
  // 1 pound-force 4.4482216152605 N: NIST SP 811 (2008) B.8 (from memory).
  [(10 * 1852) / 3600, "ms", "5.14 m/s", "10.0 kn"],
  [0.6096, "m", "0.61 m", "2.0 ft"],
  [-0.3048, "m_h", "-0.30 m/h", "-1.00 ft/h"],
  [60.96, "cm", "61.0 cm", "2.0 ft"],
  [508, "mm", "508 mm", "20.0 in"],
  [7.0874, "g", "7.1 g", "1/4 oz"],
  [2.26796, "kg", "2.27 kg", "5.0 lb"],
  [88.964, "n", "89 N", "20.0 lb test"],
  // No choice of anybody's.
  [225, "deg", "225 °", "225 °"],
] as const)("%d in %s is %s, or %s", (value, unit, metric, us) => {
  expect(quantityText(value, unit)).toBe(metric)
  expect(quantityText(value, unit, presets.us)).toBe(us)
})

test("nothing is printed as less than nothing that rounds to it", () => {
  expect(quantityText(-0.001, "m_h", presets.us)).toBe("0.00 ft/h")
  expect(quantityText(-0.001, "m")).toBe("0.00 m")
})

test("what is printed is read back, and a bare number is read in the reader's unit", () => {
  const kinds = fc.constantFrom<UnitId>("c", "ms", "hpa", "m", "m_h", "cm", "mm", "g", "kg", "n")
  const readers = fc.constantFrom(presets.metric, presets.us)
  fc.assert(
    fc.property(kinds, readers, fc.double({ min: 0, max: 1100, noNaN: true }), (unit, reader, value) => {
      const text = quantityText(value, unit, reader)
      const seen = readerUnit(unit, reader)
      const bare = text.slice(0, text.indexOf(" "))
      // Half of the last digit printed, in the stored unit, and what the conversion itself rounds.
      const decimals = (bare.split(".")[1] ?? "").length
      const half = Math.abs(convert(0.5 * 10 ** -decimals, seen, unit) - convert(0, seen, unit)) + 1e-9
      for (const back of [readQuantity(text, unit, null, false), readQuantity(bare, unit, seen, false)])
        expect(back.kind === "read" ? Math.abs(back.value - value) : Infinity).toBeLessThanOrEqual(half)
    }),
    { numRuns: 1000, seed: 811 },
  )
})

test("cuts get the fewest decimals that show them within a twentieth of the stretch between two", () => {
  // 12, 18 and 24 degC are 53.6, 64.4 and 75.2 degF: 0.4 off 10.8 apart. 12.2 degC is 53.96 degF: 0.36 apart.
  expect(decimalsForCuts([12, 18, 24], "c", presets.us)).toBe(0)
  expect(decimalsForCuts([12, 12.2], "c", presets.us)).toBe(2)
  expect(decimalsForCuts([12], "c", presets.us)).toBe(1)
})

test("cuts that differ are never printed alike", () => {
  const cuts = fc.uniqueArray(fc.integer({ min: -2000, max: 2000 }), { minLength: 2, maxLength: 8 })
  fc.assert(
    fc.property(cuts, fc.constantFrom<UnitId>("c", "ms", "hpa", "m", "mm", "g"), (tenths, unit) => {
      const seen = readerUnit(unit, presets.us)
      const at = tenths.map((tenth) => tenth / 10)
      const decimals = decimalsForCuts(at, unit, presets.us)
      const shown = at.map((cut) => convert(cut, unit, seen).toFixed(decimals))
      expect(new Set(shown).size).toBe(at.length)
    }),
    { numRuns: 500, seed: 811 },
  )
})

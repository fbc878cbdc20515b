import { expect, test } from "vitest"
import { personPeriods } from "../../../core/stats/personPeriod.ts"

// Cut at 10, an event at 10 belongs to the first interval, the last may be short.
test("one spell after another, row by row", () => {
  const got = personPeriods(
    {
      duration: Float64Array.of(25, 30, 0.3, 5),
      firstEvent: Float64Array.of(NaN, 10, NaN, 0),
      units: Float64Array.of(2, 1, 1, 1),
    },
    10,
  )
  expect([...got.spell]).toEqual([0, 0, 0, 1, 2, 3])
  expect([...got.begins]).toEqual([0, 10, 20, 0, 0, 0])
  expect([...got.exposure]).toEqual([20, 20, 10, 10, 0.3, 5])
  expect([...got.event]).toEqual([0, 0, 0, 1, 0, 1])
  const tenths = {
    duration: Float64Array.of(0.1 * 3),
    firstEvent: Float64Array.of(NaN),
    units: Float64Array.of(1),
  }
  expect(personPeriods(tenths, 0.1).spell).toHaveLength(3)
})

test("spells that cannot be are refused", () => {
  const spell = (duration: number, firstEvent: number, units = 1) => ({
    duration: Float64Array.of(duration),
    firstEvent: Float64Array.of(firstEvent),
    units: Float64Array.of(units),
  })
  expect(() => personPeriods(spell(0, NaN), 10)).toThrow("longer than 0")
  expect(() => personPeriods(spell(NaN, NaN), 10)).toThrow("NaN")
  expect(() => personPeriods(spell(20, 21), 10)).toThrow("21")
  expect(() => personPeriods(spell(20, 3, 0), 10)).toThrow("units at risk")
  expect(() => personPeriods(spell(20, 3), 0)).toThrow("interval")
})

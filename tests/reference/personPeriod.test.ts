// Case in cases/stats: rows of spells cut at ten minutes. Source is in the file. Its minutes are given to one decimal, its
// exposure in unit-hours.
import { parse } from "csv-parse/sync"
import { expect, test } from "vitest"
import { z } from "zod"
import { personPeriods } from "../../core/stats/personPeriod.ts"
import { difference, loadCase, number, readCaseFile } from "./case.ts"

const { inputs, expected, tolerance } = loadCase(
  "stats/17-first-strike.json",
  z.object({ data: z.string(), interval_minutes: number }),
  z.object({ rows: number, events: number, rod_hours_at_risk: number }),
)
const spells = z
  .array(z.object({ minutes: z.coerce.number(), rods: z.coerce.number(), first_strike_min: z.string() }))
  .parse(parse(readCaseFile(`stats/${inputs.data}`), { columns: true }))

test("rows, events and exposure at risk", () => {
  const { spell, event, exposure, begins } = personPeriods(
    {
      duration: Float64Array.from(spells, ({ minutes }) => minutes),
      firstEvent: Float64Array.from(spells, ({ first_strike_min: at }) => (at === "" ? NaN : Number(at))),
      units: Float64Array.from(spells, ({ rods }) => rods),
    },
    inputs.interval_minutes,
  )
  const sum = (values: Float64Array): number => values.reduce((total, value) => total + value, 0)
  expect(spell).toHaveLength(expected.rows)
  expect(begins).toHaveLength(expected.rows)
  expect(sum(event)).toBe(expected.events)
  expect(difference(sum(exposure) / 60, expected.rod_hours_at_risk, tolerance, "exposure")).toBeNull()
})

// Follows from the definition: cut at 10, an event at 10 belongs to the first interval, the last may be short.
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

// A curve along a round is read in words: nobody fishes at 3.14 radians.
import { expect, test } from "vitest"
import { curveBand } from "../../../renderer/charts/curveBand.ts"
import { printInk } from "../../../renderer/charts/ink.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { compared } from "../questions/compared.ts"
import { overTrips } from "../questions/factsOf.ts"

const round = (by: "tide_phase_rad" | "day_of_year", period: number) =>
  compared(
    Array.from({ length: 8 }, (_, eighth) =>
      overTrips("trip", 30, (i) => ({
        fish: 1 + ((i + eighth) % 3),
        factors: { [by]: (period * (eighth + 0.2 + 0.6 * (i / 30))) / 8 },
      })),
    ).flat(),
    { outcome: "landed_rate", by },
  )

test("a tide's round goes from low water to low water, told by quarters of its rise and fall", () => {
  const figure = curveBand(round("tide_phase_rad", 2 * Math.PI), presets.us, printInk(16), 600)
  expect(figure?.table.rows.map(([where]) => where)).toEqual([
    "first quarter of the rise",
    "second quarter of the rise",
    "third quarter of the rise",
    "last quarter of the rise",
    "first quarter of the fall",
    "second quarter of the fall",
    "third quarter of the fall",
    "last quarter of the fall",
  ])
  expect(figure?.table.head[0]).toBe("Tide phase")
  const drawn = JSON.stringify(figure?.spec)
  expect(drawn).toContain(String.raw`[\"low water\",\"mid-rise\",\"high water\",\"mid-fall\",\"low water\"]`)
  expect(figure?.said).toMatch(/^first quarter of the rise: [\d.]+ \(/)
})

test("a year's round is marked by its months", () => {
  const figure = curveBand(round("day_of_year", 365.25), presets.us, printInk(16), 600)
  expect(figure?.table.rows).toHaveLength(8)
  expect(figure?.table.rows[0]?.[0]).toBe("Jan 1 to Feb 14")
  expect(JSON.stringify(figure?.spec)).toContain(String.raw`[\"Jan\",\"Feb\",\"Mar\"`)
})

// tests/data/kokanee-creel-2014: 123 real creel interviews (SOURCE.md), totals computed in R (expected.json).
import { expect, test } from "vitest"
import { z } from "zod"
import { dataText, landedOf, readDataFile, rodHours } from "./reading.ts"

const {
  totals,
  rows: interviews,
  first_day,
  last_day,
  counts,
} = z
  .object({
    rows: z.number(),
    first_day: z.string(),
    last_day: z.string(),
    totals: z.object({
      rod_hours: z.number(),
      fish: z.number(),
      fish_by_species: z.record(z.string(), z.number()),
    }),
    counts: z.object({ gear: z.record(z.string(), z.number()) }),
  })
  .parse(JSON.parse(dataText("kokanee-creel-2014/expected.json")))

const species = Object.keys(totals.fish_by_species)
const map = [
  "Year+Month+Day=date",
  "RodHours=rod_hours",
  "Gear=lure_class",
  "sought = target",
  ...species.map((code) => `${code}=landed:${code}`),
]

test("the interviews are read by mapping, to the fish and the rod-hour", async () => {
  const read = await readDataFile("kokanee-creel-2014/interviews.csv", { map })
  expect(read.refusals).toEqual([])
  expect(read.rows).toHaveLength(interviews)
  expect(rodHours(read.rows)).toBeCloseTo(totals.rod_hours, 9)
  expect(landedOf(read.rows)).toBe(totals.fish)
  for (const code of species) {
    const landed = read.rows.flatMap((row) => row.counts.filter((count) => count.species === code))
    expect(landed).toHaveLength(interviews)
    expect(landed.reduce((sum, count) => sum + (count.landed ?? 0), 0)).toBe(totals.fish_by_species[code])
    expect(landed.every((count) => count.strikes === null && count.hook_ups === null)).toBe(true)
  }
  const dates = read.rows.map(({ date }) => date).toSorted()
  expect([dates[0], dates.at(-1)]).toEqual([first_day, last_day])
  const gear = read.rows.map((row) => String(row.factors.get("lure_class") ?? "(missing)"))
  const parties = [...Map.groupBy(gear, (word) => word)].map(([word, all]) => [word, all.length])
  expect(Object.fromEntries(parties)).toEqual(counts.gear)
  expect(read.count_columns).toEqual({ strikes: false, hook_ups: false, landed: true })
  expect(read.rows.every(({ effort_source }) => effort_source === "given")).toBe(true)
  expect(read.rows.every(({ start_at }) => start_at === null)).toBe(true)
})

test("every column says how it was read, those that are not used too", async () => {
  const { columns } = await readDataFile("kokanee-creel-2014/interviews.csv", { map })
  const readings = new Map(columns.map(({ column, reading }) => [column, reading]))
  expect(readings.size).toBe(33)
  expect(readings.get("Month")).toBe("part of date")
  expect(readings.get("Rods")).toBe("rods")
  expect(readings.get("KOCatch")).toBe("landed, KOCatch")
  expect(readings.get("Cloud")).toBe("not used")
})

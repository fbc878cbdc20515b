// Files and expected.json of tests/data/messy: twelve real interviews in eleven notations (NOTICE there), and what must be
// made of each of them, written down before there was any reader.
import { expect, test } from "vitest"
import { z } from "zod"
import { dataText, landedOf, readDataFile, rodHours } from "./reading.ts"

const Totals = z.object({
  accepted: z.number(),
  accepted_lines: z.array(z.number()).optional(),
  rejected: z.array(z.object({ line: z.number(), column: z.string().nullable() })).default([]),
  ignored_lines: z.array(z.number()).default([]),
  rod_hours: z.number().optional(),
  landed: z.number().optional(),
  blank_trips: z.number().optional(),
})
const Details = z.object({
  same_rows_as: z.string().optional(),
  notes: z.union([z.array(z.string()), z.record(z.string(), z.string())]).optional(),
  hours: z.array(z.number()).default([]),
  depth_m: z.array(z.number().nullable()).default([]),
  water_temp_c: z.array(z.number().nullable()).default([]),
  duplicates: z.array(z.object({ line: z.number(), of_line: z.number() })).default([]),
  conflicts: z.array(z.object({ line: z.number(), with_line: z.number() })).default([]),
})
const Row = z.object({
  date: z.string(),
  end: z.string(),
  hours: z.number(),
  rods: z.number(),
  lure: z.string(),
  landed: z.number(),
  note: z.string(),
})
const File = z.unknown().transform((file) => ({ totals: Totals.parse(file), details: Details.parse(file) }))
const { base, files } = z
  .object({ base: z.object({ rows: z.array(Row) }), files: z.record(z.string(), File) })
  .parse(JSON.parse(dataText("messy/expected.json")))

const expectedOf = (name: string) => {
  const found = files[name]
  if (found === undefined) throw new Error(`expected.json says nothing of ${name}`)
  return found
}
const maps: Readonly<Record<string, readonly string[]>> = { "04-mixed-units.csv": ["depth=water_depth"] }
const readMessy = (name: string) =>
  readDataFile(`messy/${name}`, { map: maps[name] ?? [], zone: "America/Vancouver" })

const noteOf = (note: string | null): string => note ?? ""

// 06 is joined later: every row of it is read here, and its duplicates are told by their hashes.
const plain = Object.keys(files).filter((name) => name !== "06-duplicates.csv")

test.each(plain)("%s: rows, refusals and ignored lines are as written down", async (name) => {
  const read = await readMessy(name)
  // Hours are quarters and one 0.375: sums of doubles are exact.
  expect({
    accepted: read.rows.length,
    accepted_lines: read.rows.map(({ line }) => line),
    rejected: read.refusals.map(({ line, column }) => ({ line, column })),
    ignored_lines: read.ignored_lines.map(({ line }) => line),
    rod_hours: rodHours(read.rows),
    landed: landedOf(read.rows),
    blank_trips: read.rows.filter((row) => landedOf([row]) === 0).length,
  }).toMatchObject(expectedOf(name).totals)
  expect(read.records).toBe(read.rows.length + new Set(read.refusals.map(({ line }) => line)).size)
})

const sameAsBase = [
  "00-clean.csv",
  ...Object.keys(files).filter((name) => files[name]?.details.same_rows_as !== undefined),
]

test.each(sameAsBase)("%s holds the twelve rows, value for value", async (name) => {
  const { rows } = await readMessy(name)
  const expected = base.rows.map(({ date, end, hours, rods, lure, landed, note }) => {
    // All of May to July 2014: Vancouver is seven hours behind UTC.
    const endAt = Date.parse(`${date}T${end}:00-07:00`)
    return {
      date,
      end_at: endAt,
      start_at: endAt - hours * 3_600_000,
      effort_minutes: hours * 60,
      effort_source: "given",
      zone: "America/Vancouver",
      rods,
      counts: [{ species: null, strikes: null, hook_ups: null, landed }],
      lure,
      note,
    }
  })
  const got = rows.map((row) => ({
    date: row.date,
    end_at: row.end_at,
    start_at: row.start_at,
    effort_minutes: row.effort_minutes,
    effort_source: row.effort_source,
    zone: row.zone,
    rods: row.rods,
    counts: row.counts,
    lure: row.factors.get("lure_class"),
    note: noteOf(row.notes),
  }))
  expect(got).toEqual(expected)
})

test.each(["02-windows-1252.csv", "08-formula-cells.csv", "10-utf16-tabs.txt"])(
  "%s keeps every note as written",
  async (name) => {
    const { rows } = await readMessy(name)
    expect(rows.map(({ notes }) => noteOf(notes))).toEqual(expectedOf(name).details.notes)
  },
)

test("a cell that looks like a formula stays text in a word's column too", async () => {
  const { rows } = await readMessy("08-formula-cells.csv")
  expect(rows.find(({ line }) => line === 4)?.factors.get("lure_class")).toBe("=mixed")
})

test("quoted commas, quotes and line breaks stay inside their cells", async () => {
  const { rows } = await readMessy("09-quotes-and-ragged.csv")
  const notes = Object.fromEntries(rows.map(({ line, notes: note }) => [String(line), noteOf(note)]))
  expect(notes).toEqual(expectedOf("09-quotes-and-ragged.csv").details.notes)
})

test("units in cells come out in SI; with a unit chosen for bare numbers the last row is taken too", async () => {
  const { depth_m, water_temp_c, hours } = expectedOf("04-mixed-units.csv").details
  const { rows } = await readMessy("04-mixed-units.csv")
  // The file gives four decimals.
  const rounded = (value: unknown) => (typeof value === "number" ? Number(value.toFixed(4)) : null)
  const read = Array.from({ length: depth_m.length }, (_, at) => rows.find(({ line }) => line === at + 2))
  expect(read.map((row) => rounded(row?.factors.get("water_depth_m")))).toEqual(depth_m)
  expect(read.map((row) => rounded(row?.factors.get("water_temp_c")))).toEqual(water_temp_c)
  expect(read.map((row) => (row?.effort_minutes ?? 360) / 60)).toEqual(hours)
  const chosen = await readDataFile("messy/04-mixed-units.csv", {
    map: ["depth=water_depth_m", "water temp=water_temp_c"],
  })
  expect(chosen.refusals).toEqual([])
  const line6 = chosen.rows.find(({ line }) => line === 6)
  expect([line6?.factors.get("water_depth_m"), line6?.factors.get("water_temp_c")]).toEqual([4, 12.2])
})

test("a repeated row has the same hash, and one with another count the same stint", async () => {
  const { rows } = await readMessy("06-duplicates.csv")
  const { duplicates, conflicts } = expectedOf("06-duplicates.csv").details
  const at = (line: number) => rows.find((row) => row.line === line)
  expect(duplicates).toHaveLength(2)
  for (const { line, of_line } of duplicates) expect(at(line)?.hash).toBe(at(of_line)?.hash)
  expect(new Set(rows.map(({ hash }) => hash)).size).toBe(rows.length - duplicates.length)
  for (const { line, with_line } of conflicts) {
    expect(at(line)?.stint_hash).toBe(at(with_line)?.stint_hash)
    expect(at(line)?.hash).not.toBe(at(with_line)?.hash)
  }
  expect(at(4)?.stint_hash).not.toBe(at(5)?.stint_hash)
})

test("the order of day and month is proved by the column and said", async () => {
  const { assumptions } = await readMessy("03-us-dates-12h.csv")
  expect(assumptions).toContain("Dates in 03-us-dates-12h.csv have the month first, as 5/16/2014 shows.")
})

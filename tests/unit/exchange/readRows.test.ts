// Rules 3, 5, 6, 7 and 8 of the plain tables.
import fc from "fast-check"
import { expect, test } from "vitest"
import { readFormulaText, writeFormulaText } from "../../../core/exchange/formula.ts"
import { onlyRow, readFiles, readLines, refusalsOf } from "./reading.ts"

const day = "2026-05-15"
const refused = async (header: string, cells: string) =>
  refusalsOf(await readLines([`date,hours,${header}`, `${day},3,${cells}`]))
const rowWith = async (header: string, cells: string) =>
  onlyRow(await readLines([`date,hours,${header}`, `${day},3,${cells}`]))

test("every named column reaches its field", async () => {
  const row = await rowWith(
    "trip,stop,stint,zone,angler,spot,lat,lon,station,target,completeness,rods,species,strikes,hook_ups,landed,follows,hang_ups,lures_lost,notes",
    "T1,s1,7,Europe/Oslo, Ann  B ,Marsh  edge,59.5,-10.25,8670870,red drum,Catches-Only,2,trout,5,3,2,1,4,0, kept as typed ",
  )
  expect(row).toMatchObject({
    trip: "T1",
    stop: "s1",
    stint: "7",
    zone: "Europe/Oslo",
    angler: "Ann B",
    spot: "Marsh edge",
    lat: 59.5,
    lon: -10.25,
    station: "8670870",
    target: "red drum",
    completeness: "catches only",
    rods: 2,
    counts: [{ species: "trout", strikes: 5, hook_ups: 3, landed: 2 }],
    follows: 1,
    hang_ups: 4,
    lures_lost: 0,
    notes: " kept as typed ",
  })
  expect(row.factors.size).toBe(0)
})

test("an empty count is unknown, never zero; an absent column is told from an empty cell", async () => {
  const read = await readLines(["date,hours,hook_ups,landed", `${day},3,,`])
  expect(onlyRow(read).counts).toEqual([{ species: null, strikes: null, hook_ups: null, landed: null }])
  expect(read.count_columns).toEqual({ strikes: false, hook_ups: true, landed: true })
})

test.each([
  ["strikes,hook_ups,landed", "5,6,2", "2 hook_ups: more hook-ups (6) than strikes (5)"],
  ["strikes,hook_ups,landed", "5,3,4", "2 landed: more landed (4) than hook-ups (3)"],
  ["strikes,hook_ups,landed", "5,,6", "2 landed: more landed (6) than strikes (5)"],
  ["landed", "1.5", "2 landed: a count must be a whole number"],
  ["landed", "-2", "2 landed: a count cannot be negative"],
  ["landed", "1e9", "2 landed: more than 10,000 in one row"],
  ["landed", "a few", "2 landed: not a number: a few"],
  ["rods", "0", "2 rods: rods must be a whole number of at least 1"],
  ["rods", "1.5", "2 rods: rods must be a whole number of at least 1"],
  ["rods", "two", "2 rods: not a number: two"],
  ["lat,lon", "91,0", "2 lat: 91 is too large: it must be at most 90"],
  ["lat", "31.5", "2 lat: a latitude without a longitude"],
  ["completeness", "mostly", '2 completeness: "mostly" is none of complete, partial, catches only'],
  ["pace", "brisk", '2 pace: "brisk" is none of slow, medium, fast'],
  ["scented", "maybe", '2 scented: "maybe" is neither yes nor no'],
  ["water_temp_f", "900", "2 water_temp_f: 482.222 °C is too large: it must be at most 45 °C"],
  ["water_temp_f", "12 parsecs", '2 water_temp_f: "parsecs" is not a unit of temperature'],
  [
    "water_temp_f",
    '"12,5"',
    "2 water_temp_f: a comma inside a number: decimal or thousands? Write 1.5 or 1500",
  ],
])("%s of %s is refused with its column and reason", async (header, cells, sentence) => {
  expect(await refused(header, cells)).toEqual([sentence])
})

test("every bad cell of a row is named, with its value", async () => {
  const read = await readLines(["date,hours,rods,landed,pace", "2026-02-30,-1,0,x,brisk"])
  expect(read.refusals.map(({ column, value }) => [column, value])).toEqual([
    ["date", "2026-02-30"],
    ["rods", "0"],
    ["landed", "x"],
    ["pace", "brisk"],
    ["hours", "-1"],
  ])
})

test("fixed words are taken in any spelling, free words as typed", async () => {
  const { factors } = await rowWith(
    "colour,water_column,tide_part,scented,lure_class,hook_style,moon_illum,hour_local,wind_dir_deg",
    "Two Tone,ON-BOTTOM,First of the Rise,TRUE, Soft  plastic ,weedless,0.5,6.25,SW",
  )
  expect(Object.fromEntries(factors)).toEqual({
    colour: "two-tone",
    water_column: "on bottom",
    tide_part: "first of the rise",
    scented: "yes",
    lure_class: "Soft plastic",
    hook_style: "weedless",
    moon_illum: 0.5,
    hour_local: 6.25,
    wind_dir_deg: 225,
  })
})

test("no rods means one, and is said", async () => {
  const read = await readLines(["date,hours,rods", `${day},3,`, `${day},3,2`])
  expect(read.rows.map(({ rods }) => rods)).toEqual([1, 2])
  expect(read.assumptions).toContain("1 row without a number of rods: taken as 1.")
})

test("decimal commas count in a table of semicolons whose numbers have no points", async () => {
  const comma = await readLines(["date;hours;water_temp_c", "15.05.2026;4,75;12,5", "16.05.2026;3;13"])
  expect(comma.rows.map(({ effort_minutes }) => effort_minutes)).toEqual([285, 180])
  expect(comma.assumptions).toContain("Commas in the numbers of log.csv are decimal signs.")
  const both = await readLines(["date;hours;water_temp_c", "15.05.2026;4,75;12.5"])
  expect(refusalsOf(both)).toEqual([
    "2 hours: a comma inside a number: decimal or thousands? Write 1.5 or 1500",
  ])
})

test("the hash is that of what is said, not of how the table is written", async () => {
  const { rows } = await readFiles({
    "a.csv": "date,hours,lure class,landed\n2026-05-15,3,Soft plastic,1\n",
    "b.csv": "Landed;LURE-CLASS;hours;date;extra\n1; soft  PLASTIC;3;2026-05-15;\n",
    "c.csv": "date,hours,lure class,species,landed\n2026-05-15,3,Soft plastic,drum,2\n",
  })
  const [a, b, c] = rows
  expect(a?.hash).toMatch(/^[0-9a-f]{32}$/)
  expect([b?.hash, b?.stint_hash]).toEqual([a?.hash, a?.stint_hash])
  expect(c?.hash).not.toBe(a?.hash)
  expect(c?.stint_hash).toBe(a?.stint_hash)
})

test("records are numbered among the data rows of their own table, refused ones counted", async () => {
  const { rows } = await readLines(["My log,", "date,hours", "", `${day},3`, `${day},x`, `${day},2`])
  expect(rows.map(({ stint, line }) => [stint, line])).toEqual([
    ["1", 4],
    ["3", 6],
  ])
})

test("any text can be written so that no spreadsheet runs it, and read back the same", () => {
  const hostile = fc.string({ unit: fc.constantFrom("'", "=", "+", "-", "@", "\t", "\r", "＝", "a", "1") })
  fc.assert(
    fc.property(fc.oneof(hostile, fc.string()), (text) => {
      const written = writeFormulaText(text)
      expect(written).not.toMatch(/^[=+\-@\t\r＝＋－＠]/)
      expect(readFormulaText(written)).toBe(text)
    }),
  )
})

test("an apostrophe before a formula goes, any other stays", async () => {
  const read = await readLines([
    "date,hours,notes",
    ...["'=1+1", "''=1+1", "'tis", "'", "=1+1"].map((note) => `${day},3,${note}`),
  ])
  expect(read.rows.map(({ notes }) => notes)).toEqual(["=1+1", "'=1+1", "'tis", "'", "=1+1"])
})

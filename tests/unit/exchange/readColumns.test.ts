// Headers and mappings: rule 10 of the plain tables. Other ordinary words for our headers: common practice, no source.
import { expect, test } from "vitest"
import { factorIds, factorOf } from "../../../shared/factors.ts"
import { recognise } from "../../../core/exchange/read/targets.ts"
import { onlyRow, problemOf, readFiles, readLines, refusalsOf, holding, near } from "./reading.ts"

const meant = (header: string) => {
  const found = recognise(header, "stints")
  return found?.kind === "one" ? found.target : found
}

test("every factor is a header by its own name", () => {
  const named = new Set(["spot", "angler", "rods"])
  for (const id of factorIds) {
    if (named.has(id)) continue
    const kind = factorOf(id).home === "derived" ? "derived" : "factor"
    expect(meant(id), id).toMatchObject({ kind, id })
  }
})

test.each(["Water_Temp_F", "water temp (F)", "Water-temp [°F]", " WATER TEMPERATURE F ", "wâter temp f"])(
  "%s is water temperature in Fahrenheit",
  (header) => {
    expect(meant(header)).toEqual({ kind: "factor", id: "water_temp_c", unit: "f" })
  },
)

test.each([
  ["head_weight_oz", { kind: "factor", id: "head_weight_g", unit: "oz" }],
  ["Leader strength (lb)", { kind: "factor", id: "leader_strength_n", unit: "lbf" }],
  ["wind speed [kn]", { kind: "factor", id: "wind_speed_ms", unit: "kn" }],
  ["tide_rate_ft_h", { kind: "factor", id: "tide_rate_m_h", unit: "ft_h" }],
  ["water temp", { kind: "factor", id: "water_temp_c", unit: null }],
  ["Lure class", { kind: "factor", id: "lure_class", unit: null }],
  ["time fished (min)", { kind: "effort", field: "minutes" }],
  ["Wind (mph)", { kind: "factor", id: "wind_speed_ms", unit: "mph" }],
  ["Finished", { kind: "moment", field: "end", order: null }],
  ["Began", { kind: "moment", field: "start", order: null }],
  ["Hook-ups", { kind: "count", field: "hook_ups", species: null }],
  ["Note", { kind: "word", field: "notes" }],
])("%s is understood", (header, target) => {
  expect(meant(header)).toEqual(target)
})

test.each(["cloud", "moon phase", "wind", "temp", "water temp (kg)", "weather", "gear", ""])(
  "%j is not ours",
  (header) => {
    expect(meant(header)).toBeNull()
  },
)

test("a header's unit is used, and a cell's own unit beats it", async () => {
  const read = await readLines([
    "date,hours,Water temp (F),head_weight_oz",
    "2026-05-15,3,68,1/4",
    "2026-05-15,3,20 C,7 g",
  ])
  const values = read.rows.map(({ factors }) => [factors.get("water_temp_c"), factors.get("head_weight_g")])
  expect(values).toEqual([
    [near(20), near(7.08738078125)],
    [20, 7],
  ])
  expect(read.columns.find(({ column }) => column.startsWith("Water"))).toEqual({
    file: "log.csv",
    column: "Water temp (F)",
    target: "water_temp_c",
    reading: "water_temp_c, from °F",
  })
})

test("a header that fits two factors is asked about, and the mapping answers", async () => {
  const lines = ["date,hours,depth_ft", "2026-05-15,3,10"]
  const problem = await problemOf(readLines(lines))
  expect(problem.code).toBe("map_unclear")
  expect(problem.message).toContain('--map "depth_ft=fished_depth_ft" or --map "depth_ft=water_depth_ft"')
  const water = onlyRow(await readLines(lines, { map: ["depth_ft=water_depth_ft"] }))
  expect(water.factors.get("water_depth_m")).toBeCloseTo(3.048, 12)
  expect(onlyRow(await readLines(lines, { map: ["DEPTH FT=ignore"] })).factors.size).toBe(0)
})

test("columns are joined, renamed and split by species", async () => {
  const read = await readLines(
    ["Year,Month,Day,Time on,Dur,Trout,Drum", "2026,May,15,06:10,2 h,3,", "2026,May,16,06:10,1 h,0,1"],
    {
      map: [
        "year+month+day=date",
        "Time On = start",
        "dur=hours",
        "Trout=landed:Spotted seatrout",
        "Drum=landed:red drum",
      ],
    },
  )
  expect(refusalsOf(read)).toEqual([])
  expect(read.rows.map(({ date, effort_minutes }) => [date, effort_minutes])).toEqual([
    ["2026-05-15", 120],
    ["2026-05-16", 60],
  ])
  expect(read.rows[0]?.counts).toEqual([
    { species: "Spotted seatrout", strikes: null, hook_ups: null, landed: 3 },
    { species: "red drum", strikes: null, hook_ups: null, landed: null },
  ])
})

test("whole counts beside counts by species make an entry of their own, and must hold them", async () => {
  const map = ["Trout=landed:trout", "Drum=landed:drum"]
  const read = await readLines(
    ["date,hours,strikes,hook_ups,Trout,Drum", "2026-05-15,3,5,4,2,1", "2026-05-16,3,5,2,2,1"],
    { map },
  )
  expect(read.rows[0]?.counts).toEqual([
    { species: null, strikes: 5, hook_ups: 4, landed: null },
    { species: "trout", strikes: null, hook_ups: null, landed: 2 },
    { species: "drum", strikes: null, hook_ups: null, landed: 1 },
  ])
  expect(refusalsOf(read)).toEqual(["3 Trout: all species together: more landed (3) than hook-ups (2)"])
})

test.each([
  ["no equals sign", "date", "is not of the form"],
  ["no left side", "=date", "is not of the form"],
  ["unknown column", "Nope=date", 'The table has "date", "hours", "Fish", "Fische"'],
  ["unknown column in a join", "date+Nope=start", "there is no such column"],
  ["unknown target", "Fish=catches", "is none of our columns"],
  ["target that follows from others", "Fish=month", "is none of our columns"],
  ["target that fits two", "Fish=depth", "fits fished_depth_m and water_depth_m"],
])("a mapping with %s is refused", async (_, mapping, sentence) => {
  const problem = await problemOf(
    readLines(["date,hours,Fish,Fische", "2026-05-15,3,1,1"], { map: [mapping] }),
  )
  expect(problem.code).toBe("map_unclear")
  expect(problem.message).toContain(sentence)
})

test("two columns for one thing are refused, unless one is by species", async () => {
  const lines = ["date,hours,Fish,Fische,Note,Notes", "2026-05-15,3,1,1,a,b"]
  const twice = (map: string[]) => problemOf(readLines(lines, { map: ["Note=ignore", ...map] }))
  expect((await twice(["Fish=landed", "Fische=landed"])).message).toContain(
    '"Fish" and "Fische" would both be landed',
  )
  expect((await twice(["Fish=landed", "Fische=landed:drum"])).code).toBe("map_unclear")
  expect((await twice(["Fish=landed:drum", "Fische=landed:DRUM"])).code).toBe("map_unclear")
  expect((await problemOf(readLines(lines))).message).toContain('"Note" and "Notes" would both be notes')
  const read = await readLines(lines, { map: ["Note=ignore", "Fish=landed:drum", "Fische=landed:trout"] })
  expect(onlyRow(read).notes).toBe("b")
})

test("a mapping beats a header that speaks for itself", async () => {
  const row = onlyRow(
    await readLines(["date,hours,real hours", "2026-05-15,3,2"], { map: ["real hours=hours"] }),
  )
  expect(row.effort_minutes).toBe(120)
})

test("a header with a plus sign of its own is one column", async () => {
  const row = onlyRow(
    await readLines(["date,hours,kept+released", "2026-05-15,3,2"], { map: ["kept+released=landed"] }),
  )
  expect(row.counts[0]?.landed).toBe(2)
})

test("what follows from other columns is not read, and said", async () => {
  const read = await readLines(["date,hours,month,days_rested", "2026-05-15,3,March,9"])
  expect(onlyRow(read).factors.size).toBe(0)
  expect(read.columns.find(({ column }) => column === "month")).toMatchObject({
    target: "month",
    reading: holding("not read"),
  })
})

test("a mapping may name columns of one table among several", async () => {
  const read = await readFiles(
    { "a.csv": "Tag,hours\n2026-05-15,3\n", "b.csv": "date,hours\n2026-05-16,2\n" },
    { map: ["Tag=date"] },
  )
  expect(read.rows.map(({ file, date }) => [file, date])).toEqual([
    ["a.csv", "2026-05-15"],
    ["b.csv", "2026-05-16"],
  ])
})

// CSV of water-level stations. The formats' sources are named in tests/data/station/README.md; the numbers are invented.
import { expect, test } from "vitest"
import { partSources } from "../../../core/exchange/partSources.ts"
import { sourceOf } from "./importing.ts"
import { near, problemOf } from "./reading.ts"
import { readFile, readings, readText, refusals } from "./stationFiles.ts"

const lines = (...some: string[]): string => some.join("\n")
const temperatures = "Date Time, Water Temperature, X, N, R "

test("the data service's file is taken as metric and GMT, and says so", async () => {
  const file = await readFile("gauge-temperature.csv")
  expect(file.refusals).toEqual([])
  // of two readings within ten minutes the earlier is kept; 10:12 holds none
  expect(readings(file)).toEqual([
    ["2024-05-11T10:00", { water_temp_c: 21.5 }],
    ["2024-05-11T10:18", { water_temp_c: 21.7 }],
  ])
  expect([file.rows, file.in_reach]).toEqual([4, 3])
  expect(file.columns.get("Water Temperature")).toEqual({ target: "water_temp_c", unit: "°C", missing: 1 })
  expect(file.assumptions).toEqual([
    "station.txt does not say its units: taken as metric. US units can be said instead (--station-units us).",
    "station.txt does not say its time zone: taken as GMT. Another can be said (--zone).",
  ])
})

test("salinity comes without a unit to be told, so none is assumed", async () => {
  const file = await readText(lines("Date Time, Salinity, Specific Gravity", "2024-05-11 10:00,24.6,1.016"))
  expect(readings(file)).toEqual([["2024-05-11T10:00", { salinity_psu: 24.6 }]])
  expect(file.assumptions).toEqual([
    "station.txt does not say its time zone: taken as GMT. Another can be said (--zone).",
  ])
})

test("conductivity beside water temperature is a salinity, and alone is nothing that is kept", async () => {
  const file = await readText(
    lines("Date Time, Water Temperature, Conductivity", "2024-05-11 10:00,15.0,42.91"),
  )
  expect(readings(file)).toEqual([["2024-05-11T10:00", { water_temp_c: 15, salinity_psu: 35 }]])
  expect(file.assumptions.join(" ")).toContain("salinity of 1 row is worked out from conductivity")
  const alone = readText(lines("Date Time, Conductivity, F, R, L", "2024-05-11 10:00,42.91,0,0,0"))
  expect((await problemOf(alone)).message).toContain("conductivity beside water temperature")
})

test("units and zone are as the user says", async () => {
  const text = lines(temperatures, "2024-05-11 06:00,68,0,0,0")
  const file = await readText(text, { units: "us", zone: "America/New_York" })
  // 68 °F is 20 °C, and New York is four hours behind UTC in May (IANA time zone database)
  expect(readings(file)).toEqual([["2024-05-11T10:00", { water_temp_c: near(20) }]])
  expect(file.assumptions).toEqual([
    "station.txt does not say its units: taken as US units, as said.",
    "station.txt does not say its time zone: taken as the local time of America/New_York, as said.",
  ])
})

test("a temperature in the wrong units is refused with a word on units", async () => {
  const file = await readText(lines(temperatures, "2024-05-11 06:00,68,0,0,0"))
  expect(refusals(file)).toEqual([
    '2 Water Temperature "68": 68 °C is no water temperature; if the file is in US units, say so (--station-units us)',
  ])
})

test("levels are read, and wind and pressure where the service gives them", async () => {
  expect(readings(await readFile("gauge-level.csv"))).toEqual([
    ["2024-05-11T10:00", { water_level_m: 1.204 }],
  ])
  const wind = lines(
    "Date Time, Speed, Direction, Direction, Gust, X, R",
    "2024-05-11 10:00,5.1,135.00,SE,7.2,0,0",
  )
  expect(readings(await readText(wind))).toEqual([
    ["2024-05-11T10:00", { wind_speed_ms: 5.1, wind_dir_deg: 135 }],
  ])
  const pressure = await readText(lines("Date Time, Pressure, X, N, R", "2024-05-11 10:00,1017.9,0,0,0"))
  expect(readings(pressure)).toEqual([["2024-05-11T10:00", { barometer_hpa: near(1017.9) }]])
  expect(pressure.assumptions).toEqual([
    "station.txt does not say its time zone: taken as GMT. Another can be said (--zone).",
  ])
})

test("the web page's file says its units and zone, and a verified level wins over a preliminary one", async () => {
  const file = await readFile("gauge-page.csv", { zone: "America/New_York", units: "metric" })
  expect(file.refusals).toEqual([])
  expect(file.assumptions).toEqual([])
  expect(readings(file)).toEqual([["2024-05-11T10:00", { water_level_m: 4 * 0.3048 }]])
  const later = await readText(
    '"Date","Time (GMT)","Preliminary (m)","Verified (m)"\n"2024/05/11","10:06","1.2","-"',
  )
  expect(readings(later)).toEqual([["2024-05-11T10:06", { water_level_m: 1.2 }]])
})

test("times of the station's own clocks want a zone, and are read in it", async () => {
  const page = (zone: string, ...rows: string[]) => lines(`Date,Time (${zone}),Verified (m)`, ...rows)
  const problem = await problemOf(readText(page("LST/LDT", "2024/05/11,06:00,1.0")))
  expect(problem.message).toBe(
    "station.txt: its times are those of the station's own zone; say which (--zone).",
  )
  const zone = "America/New_York"
  const local = await readText(page("LST/LDT", "2024/05/11,06:00,1.0"), { zone })
  const standard = await readText(page("LST", "2024/05/11,05:00,1.0"), { zone })
  expect(readings(local)).toEqual([["2024-05-11T10:00", { water_level_m: 1 }]])
  expect(readings(standard)).toEqual(readings(local))
  // Clocks there went back on 3 November 2024 at 06:00 UTC and forward on 10 March 2024 at 07:00 UTC (IANA database).
  const back = page("LST/LDT", "2024/11/03,01:30,1.0", "2024/11/03,01:30,2.0", "2024/11/03,02:30,3.0")
  expect(readings(await readText(back, { zone })).map(([at]) => at)).toEqual([
    "2024-11-03T05:30",
    "2024-11-03T06:30",
    "2024-11-03T07:30",
  ])
  const forward = await readText(page("LST/LDT", "2024/03/10,01:30,1.0", "2024/03/10,02:30,2.0"), { zone })
  expect(refusals(forward)).toEqual([
    '3 Date Time (LST/LDT) "2024/03/10 02:30": no such time in America/New_York, where the clocks went forward over it',
  ])
})

test.each([
  ["a truncated line", "2024-05-11 10:0", "3 row: 1 values where the header names 5"],
  ["letters for a number", "2024-05-11 10:06,warm,0,0,0", '3 Water Temperature "warm": not a number'],
  [
    "a day that is none",
    "2024-02-30 10:06,21,0,0,0",
    '3 Date Time "2024-02-30 10:06": no such day: 30 February',
  ],
  ["a day without a time", "2024-05-11,21,0,0,0", '3 Date Time "2024-05-11": not a date and time'],
  ["the service's own error", "Error: No data was found.", "3 row: 1 values where the header names 5"],
])("%s is refused with its line, and the rows around it are kept", async (_, bad, reason) => {
  const file = await readText(
    lines(temperatures, "2024-05-11 10:00,21,0,0,0", bad, "2024-05-11 10:30,22,0,0,0"),
  )
  expect(refusals(file)).toEqual([reason])
  expect(file.kept.map(({ row }) => row.line)).toEqual([2, 4])
})

test("a column in an unknown unit is left out and named", async () => {
  const file = await readText(lines("Date,Time (GMT),Water Temp (R),Baro (mb)", "2024/05/11,10:00,530,1012"))
  expect(refusals(file)).toEqual(['1 Water Temp (R) "R": not a unit known for it; the column is left out'])
  expect(readings(file)).toEqual([["2024-05-11T10:00", { barometer_hpa: near(1012) }]])
})

test("predictions are no readings", async () => {
  const problem = await problemOf(readText(lines("Date Time, Prediction", "2024-05-11 10:00,1.2")))
  expect(problem.message).toContain("nothing measured in it is kept")
})

test("a station's file is known by its first line, whatever its name; plain tables are left alone", async () => {
  const part = async (text: string) =>
    (await partSources([sourceOf("stints.csv", text)])).stations.length === 1
  expect(await part("\n#YY  MM DD hh mm WDIR WSPD\n")).toBe(true)
  expect(await part("YY MM DD hh WD   WSPD GST\r\n96 01 01 00 1 2 3\r\n")).toBe(true)
  expect(await part('\uFEFF"Date Time","Water Level"\n')).toBe(true)
  expect(await part("Date Time,Water Temperature,Lure,Landed\n")).toBe(false)
  expect(await part("date,start,end,landed\n2024-05-11,06:00,07:00,1\n")).toBe(false)
  expect(await part("")).toBe(false)
})

// Standard meteorological data. The formats' sources are named in tests/data/station/README.md; the numbers are invented.
import { expect, test } from "vitest"
import { near, problemOf } from "./reading.ts"
import { readFile, readings, readText, refusals, stationText } from "./stationFiles.ts"

const twoLines = stationText("buoy-realtime.txt").split("\n").slice(0, 2).join("\n")
const rowAt = (clock: string, rest = "210  4.0  6.0 MM MM MM MM 1016.2 22.4 21.8 MM MM +0.4 3.28") =>
  `2024 05 11 ${clock} ${rest}`
const withRows = (...rows: string[]): string => [twoLines, ...rows].join("\n")

test("a realtime file gives wind, pressure, its change, temperature and level in SI units, times in UTC", async () => {
  const file = await readFile("buoy-realtime.txt")
  expect(file.refusals).toEqual([])
  expect(file.assumptions).toEqual([])
  const feet = 0.3048 // exact: NIST SP 811 (2008), Appendix B.8 (value from memory)
  expect(readings(file)).toEqual([
    [
      "2024-05-10T12:00",
      { wind_dir_deg: 180, wind_speed_ms: 5, barometer_hpa: 1014, water_temp_c: 21, barometer_3h_hpa: 0 },
    ],
    ["2024-05-11T10:00", { water_temp_c: 21.3, water_level_m: -feet }],
    [
      "2024-05-11T11:00",
      {
        wind_dir_deg: 200,
        wind_speed_ms: 3,
        barometer_hpa: 1015.8,
        water_temp_c: 21.5,
        barometer_3h_hpa: -0.2,
      },
    ],
    ["2024-05-11T11:50", { wind_dir_deg: 210, wind_speed_ms: 4.1, barometer_hpa: 1016.1 }],
    [
      "2024-05-11T12:00",
      {
        wind_dir_deg: 210,
        wind_speed_ms: 4,
        barometer_hpa: 1016.2,
        water_temp_c: 21.8,
        barometer_3h_hpa: 0.4,
        water_level_m: 3.28 * feet,
      },
    ],
  ])
  expect(file.columns.get("WTMP")).toEqual({ target: "water_temp_c", unit: "°C", missing: 1 })
  expect(file.columns.get("TIDE")).toEqual({ target: "water_level_m", unit: "ft", missing: 3 })
  expect(file.columns.get("WVHT")).toEqual({ target: null, unit: null, missing: 0 })
})

test("salinity is worked out from conductivity where none is told, and said to be", async () => {
  const [names = "", units = ""] = stationText("buoy-ocean.txt").split("\n")
  const rows = [
    "1.0 15.00  42.91    MM",
    "1.0 15.00  42.91 30.00",
    "1.0    MM  42.91    MM",
    "1.0 15.00   0.30    MM",
    "1.0 15.00 429100    MM",
  ].map((row, hour) => `2024 05 11 1${hour} 00 ${row} MM MM MM MM MM MM`)
  const file = await readText([names, units, ...rows].join("\n"))
  expect(file.refusals).toEqual([])
  // 42.914 mS/cm at 15 degrees is salinity 35 by definition of the scale (UNESCO 44); 0.3 mS/cm is fresh, below its reach.
  expect(readings(file)).toEqual([
    ["2024-05-11T10:00", { water_temp_c: 15, salinity_psu: 35 }],
    ["2024-05-11T11:00", { water_temp_c: 15, salinity_psu: 30 }],
    ["2024-05-11T13:00", { water_temp_c: 15 }],
    ["2024-05-11T14:00", { water_temp_c: 15 }],
  ])
  expect(file.columns.get("COND")?.missing).toBe(1)
  expect(file.assumptions).toEqual([
    "station.txt: the salinity of 1 row is worked out from conductivity and water temperature (PSS-78).",
    "station.txt: 2 rows with conductivity but no salinity: without water temperature, or off the scale of 2 to 42, none is worked out.",
  ])
})

test("nines of an archived file are no measurements, and a row of nothing but nines is no reading", async () => {
  const file = await readFile("buoy-historical.txt")
  expect(file.refusals).toEqual([])
  expect(readings(file)).toEqual([
    ["2019-06-01T00:00", { wind_dir_deg: 90, wind_speed_ms: 6.2, barometer_hpa: 1017.3, water_temp_c: 27 }],
    ["2019-06-01T02:00", { wind_dir_deg: 100, wind_speed_ms: 6, barometer_hpa: 1017, water_level_m: 0.3048 }],
  ])
  expect(file.rows).toBe(3)
})

test("oceanographic data give temperature and salinity near the surface; what was measured deep is left out and said", async () => {
  const file = await readFile("buoy-ocean.txt")
  expect(file.refusals).toEqual([])
  expect(readings(file)).toEqual([
    ["2024-05-11T10:00", { salinity_psu: 24.5 }],
    ["2024-05-11T11:00", { water_temp_c: 22.1 }],
    ["2024-05-11T12:00", { water_temp_c: 22.4, salinity_psu: 24.6 }],
  ])
  expect(file.assumptions).toEqual([
    "station.txt: 1 row measured deeper than 3 m left out: that is seldom the water fished.",
  ])
  expect(file.columns.get("SAL")).toEqual({ target: "salinity_psu", unit: "psu", missing: 1 })
  expect(file.columns.get("COND")).toEqual({ target: "conductivity", unit: "mS/cm", missing: 1 })
})

test("older files have other names, no minutes, no units and short years", async () => {
  const file = await readFile("buoy-2004.txt")
  expect(readings(file)).toEqual([
    [
      "2004-07-04T06:00",
      { wind_dir_deg: 160, wind_speed_ms: 2.5, barometer_hpa: 1018.9, water_temp_c: 26.9 },
    ],
    ["2004-07-04T07:00", { barometer_hpa: 1018.5, water_temp_c: 26.8 }],
  ])
  expect(file.assumptions).toEqual([
    "station.txt has no line of units: taken as the format has them (°C, m/s, hPa, heights in feet).",
  ])
  const older = await readFile("buoy-1996.txt")
  expect(readings(older)).toEqual([
    [
      "1996-02-29T23:00",
      { wind_dir_deg: 353, wind_speed_ms: 6.2, barometer_hpa: 1019.2, water_temp_c: 14.1 },
    ],
  ])
  expect(refusals(older)).toEqual(['3 YY MM DD hh "96 02 30 00": not a date and time'])
})

test("files put one behind the other are read each by its own header", async () => {
  const both = await readText(stationText("buoy-2004.txt") + stationText("buoy-realtime.txt"))
  expect(both.refusals).toEqual([])
  expect(both.kept).toHaveLength(7)
})

test.each([
  ["a truncated line", "2024 05 11 12 10 210 4.", "4 row: 7 values where the header names 19"],
  ["a value too many", `${rowAt("12 10")} 7`, "4 row: 20 values where the header names 19"],
  ["letters for a number", rowAt("12 10").replace("21.8", "warm"), '4 WTMP "warm": not a number'],
  ["a number in scientific notation", rowAt("12 10").replace("21.8", "2e1"), '4 WTMP "2e1": not a number'],
  [
    "a temperature that is none",
    rowAt("12 10").replace("21.8", "71.2"),
    '4 WTMP "71.2": 71.2 °C is no water temperature',
  ],
  [
    "a month 13",
    rowAt("12 10").replace("05 11", "13 11"),
    '4 YY MM DD hh mm "2024 13 11 12 10": not a date and time',
  ],
  ["an hour 24", rowAt("24 10"), '4 YY MM DD hh mm "2024 05 11 24 10": not a date and time'],
  ["a minute 60", rowAt("12 60"), '4 YY MM DD hh mm "2024 05 11 12 60": not a date and time'],
  [
    "a year of two digits of this century",
    rowAt("12 10").replace("2024", "24"),
    '4 YY MM DD hh mm "24 05 11 12 10": not a date and time',
  ],
  ["a time to come", rowAt("12 10").replace("2024", "2027"), "4 row: its time lies in the future"],
])("%s is refused with its line, and the rows around it are kept", async (_, bad, reason) => {
  const file = await readText(withRows(rowAt("12 00"), bad, rowAt("12 20")))
  expect(refusals(file)).toEqual([reason])
  expect(file.kept.map(({ row }) => row.line)).toEqual([3, 5])
  expect(file.records).toBe(3)
})

test("other units in the line of units are converted; a column in an unknown one is left out and named", async () => {
  const units = twoLines
    .replace("degT m/s ", "degT kn")
    .replace("degC  degC  degC", "degC  degF  degC")
    .replace("  hPa    ft", "  hPa   ell")
  const file = await readText(
    [units, rowAt("12 00", "210 10 6.0 MM MM MM MM 1016.2 22.4 68 MM MM +0.4 3.28")].join("\n"),
  )
  expect(refusals(file)).toEqual(['2 TIDE "ell": not a unit known for it; the column is left out'])
  const [[, values] = []] = readings(file)
  expect(values).toEqual({
    wind_dir_deg: 210,
    // 1 knot is 1852/3600 m/s, 68 °F is 20 °C: NIST SP 811 (2008), Appendix B.8 (values from memory); only rounding is left
    wind_speed_ms: near((10 * 1852) / 3600),
    water_temp_c: near(20),
    barometer_hpa: 1016.2,
    barometer_3h_hpa: 0.4,
  })
})

test("remarks between the rows are passed over", async () => {
  const file = await readText(withRows(rowAt("12 00"), "# the station was moved", "", rowAt("12 10")))
  expect(file.refusals).toEqual([])
  expect(file.kept).toHaveLength(2)
})

test.each([
  ["a header and no row", twoLines, "station.txt: there is a header and nothing below it."],
  ["a zero byte", `${withRows(rowAt("12 00"))}\n\u0000`, "station.txt: line 4"],
  [
    "a line without an end",
    withRows(rowAt("12 00"), "x".repeat(2 ** 21)),
    "station.txt: line 4 is longer than 1 MiB",
  ],
  [
    "waves only",
    "#YY  MM DD hh mm WVHT DPD\n2024 05 11 12 00 0.6 6",
    "station.txt: none of its columns is wind",
  ],
])("%s is a file that cannot be read", async (_, content, sentence) => {
  const problem = await problemOf(readText(content))
  expect(problem.code).toBe("table_unreadable")
  expect(problem.message).toContain(sentence)
})

test("of rows within ten minutes the one that says most is kept, of equals the earliest, in whatever order they stand", async () => {
  const poor = "210  4.0  6.0 MM MM MM MM MM 22.4 MM MM MM MM MM"
  const rows = [rowAt("12 00", poor), rowAt("12 03"), rowAt("12 09"), rowAt("12 10", poor)]
  for (const order of [rows, rows.toReversed()]) {
    const file = await readText(withRows(...order))
    expect(readings(file).map(([at]) => at)).toEqual(["2024-05-11T12:03", "2024-05-11T12:10"])
  }
})

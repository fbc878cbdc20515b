// Station files into a logbook: kept, thinned, carried to stints, known again, taken back. All numbers are invented.
import { expect, test } from "vitest"
import { runCommand } from "../../../core/cli/command.ts"
import { importText } from "../../../core/cli/importText.ts"
import type { TableSource } from "../../../core/exchange/draft.ts"
import { takeBackImport } from "../../../core/exchange/takeBack.ts"
import { previewImport, runImport } from "../../../core/service/imports.ts"
import { stationReadings } from "../../../core/store/read/stationReadings.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { ImportSettings, type ImportDone } from "../../../shared/imports.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"
import { context, factRows, importTables, sourceOf } from "./importing.ts"
import { problemOf } from "./reading.ts"
import { stationText } from "./stationFiles.ts"

/** One trip from 10:00 to 12:00 UTC on 11 May 2024; the second stint has a temperature of its own. */
const stints = `trip,start,end,landed,water_temp_c
A,2024-05-11T10:00Z,2024-05-11T10:40Z,1,
A,2024-05-11T11:20Z,2024-05-11T12:00Z,0,19`
const minute = 60_000
const noon = Date.UTC(2024, 4, 11, 12)

const realtime = { "41099.txt": stationText("buoy-realtime.txt") }

async function bookWith(table = stints, settings = {}): Promise<Logbook> {
  const book = temporaryLogbook()
  await importTables(book, { "stints.csv": table }, settings)
  return book
}
const take = (book: Logbook, { batch }: ImportDone) =>
  book.change((change) => takeBackImport(change, batch ?? "", false))
const codes = ({ cautions }: ImportDone): string[] => cautions.map(({ code }) => code)

/** A water temperature every so many minutes, as the data service gives it. */
const temperatures = (from: number, to: number, every: number): string =>
  [
    "Date Time, Water Temperature, X, N, R",
    ...Array.from({ length: Math.floor((to - from) / every / minute) + 1 }, (_, i) => {
      const at = new Date(from + i * every * minute).toISOString().slice(0, 16).replace("T", " ")
      return `${at},${(20 + (i % 100) / 100).toFixed(2)},0,0,0`
    }),
  ].join("\n")

test("readings near a trip are kept with it and carried to its stints; a stint's own reading stays", async () => {
  const book = await bookWith()
  const done = await importTables(book, realtime)
  expect(done.readings).toMatchObject({ adds: 4, trips: 1, already_there: 0 })
  expect(done.readings.files[0]).toMatchObject({ rows: 5, in_reach: 4, kept: 4 })
  expect([done.records, done.refused_rows, done.creates.trips]).toEqual([5, 0, 0])
  expect(codes(done)).toEqual(["station_elsewhere"])
  const [first, second] = factRows(
    book,
    "water_temp_c",
    "water_temp_c_source",
    "wind_dir_deg",
    "wind_dir_deg_source",
    "barometer_hpa",
    "barometer_hpa_source",
  )
  expect(first).toEqual({
    water_temp_c: 21.3,
    water_temp_c_source: "imported",
    wind_dir_deg: 200,
    wind_dir_deg_source: "carried from 20 min after",
    barometer_hpa: 1015.8,
    barometer_hpa_source: "carried from 20 min after",
  })
  expect(second).toMatchObject({ water_temp_c: 19, water_temp_c_source: "imported", wind_dir_deg: 210 })
  expect(stationReadings(book.db).map(({ water_level_m }) => water_level_m)).toContain(-0.3048)
})

test("a preview says the same and stores nothing", async () => {
  const book = await bookWith()
  const sources = [sourceOf("41099.txt", realtime["41099.txt"])]
  const report = await previewImport(book, sources, ImportSettings.parse({}), context)
  expect(stationReadings(book.db)).toEqual([])
  const { batch, ...done } = await importTables(book, realtime)
  expect(batch).not.toBeNull()
  expect(report).toEqual(done)
})

test("the same file again adds nothing, and taking it back leaves nothing", async () => {
  const book = await bookWith()
  const done = await importTables(book, realtime)
  const again = await importTables(book, realtime)
  expect([again.batch, again.readings.adds, again.readings.already_there]).toEqual([null, 0, 4])
  expect(importText(again, again, 100)).toContain(
    "Nothing to add: 4 readings from stations were there already.",
  )
  expect(take(book, done)).toMatchObject({ removed: { observation: 4 }, stayed: [] })
  expect(stationReadings(book.db)).toEqual([])
  expect(factRows(book, "wind_dir_deg")).toEqual([{ wind_dir_deg: null }, { wind_dir_deg: null }])
  expect((await importTables(book, realtime)).readings.adds).toBe(4)
})

test("a trip is not held back by readings when its own import is taken back", async () => {
  const book = temporaryLogbook()
  const table = await importTables(book, { "stints.csv": stints })
  const readings = await importTables(book, realtime)
  expect(take(book, table).stayed).toEqual([])
  expect(factRows(book, "stint_id")).toEqual([])
  expect(take(book, readings).stayed).toEqual([])
})

test("only readings from three hours before to three hours after a trip are kept, one in ten minutes", async () => {
  const book = await bookWith()
  const text = temperatures(noon - 24 * 60 * minute, noon + 24 * 60 * minute, 1)
  const done = await importTables(book, { "temperature.csv": text })
  const kept = stationReadings(book.db).map(({ at }) => (at - noon) / minute)
  expect(Math.min(...kept)).toBe(-5 * 60) // 07:00, three hours before 10:00
  expect(Math.max(...kept)).toBe(3 * 60) // 15:00, three hours after 12:00
  expect(kept).toHaveLength(8 * 6 + 1)
  expect(new Set(kept.map((at) => Math.floor(at / 10))).size).toBe(kept.length)
  expect(done.readings.files[0]).toMatchObject({ rows: 2881, in_reach: 481, kept: 49 })
  expect(done.assumptions).toContain("Of readings closer together one in 10 minutes is kept for each trip.")
})

test("a trip without clock times is reached all its local day, and every trip gets its own readings", async () => {
  const table = "date,hours,landed\n2024-05-11,3,1\n2024-05-11,2,0"
  const book = await bookWith(table, { zone: "America/New_York" })
  const done = await importTables(book, {
    "t.csv": temperatures(noon - 2880 * minute, noon + 2880 * minute, 60),
  })
  const kept = stationReadings(book.db)
  // The day there lasts from 04:00 UTC to 04:00 UTC of the next day; with three hours on either side 31 full hours.
  expect(Math.min(...kept.map(({ at }) => at))).toBe(Date.UTC(2024, 4, 11, 1))
  expect(Math.max(...kept.map(({ at }) => at))).toBe(Date.UTC(2024, 4, 12, 7))
  expect([kept.length, done.readings.trips]).toEqual([2 * 31, 2])
})

test("a file that reaches no trip is told so, and nothing is stored", async () => {
  const book = await bookWith()
  const done = await importTables(book, { "old.txt": stationText("buoy-2004.txt") })
  expect([done.batch, done.readings.adds]).toEqual([null, 0])
  expect(done.cautions).toEqual([
    {
      code: "no_trip_in_reach",
      text:
        "old.txt has rows from 2004-07-04 06:00 UTC to 2004-07-04 07:00 UTC, and nothing measured within 3 hours of a " +
        "trip in the logbook: nothing of it is kept.",
    },
  ])
  expect(stationReadings(book.db)).toEqual([])
})

test("another station's values, or other units, are pointed out", async () => {
  const book = await bookWith()
  await importTables(book, realtime)
  const other = realtime["41099.txt"].replaceAll("  21.5", "  23.5")
  const done = await importTables(book, { "another.txt": other })
  expect(done.readings).toMatchObject({ adds: 1, already_there: 3 })
  expect(codes(done)).toEqual(["other_readings", "station_elsewhere"])
})

test("bad rows are refused beside the good, or stop everything where the user says so", async () => {
  const book = await bookWith()
  const text = `${realtime["41099.txt"]}2024 05 11 11 30 truncat`
  const strict = importTables(book, { "41099.txt": text }, { all_or_nothing: true })
  expect((await problemOf(strict)).code).toBe("rows_refused")
  expect(stationReadings(book.db)).toEqual([])
  const done = await importTables(book, { "41099.txt": text })
  expect([done.readings.adds, done.refused_rows, done.records]).toEqual([4, 1, 6])
  expect(done.refused[0]).toMatchObject({ file: "41099.txt", line: 8 })
})

test("tables and station files may come together: the trips first, their readings the next time", async () => {
  const book = temporaryLogbook()
  const both = { "stints.csv": stints, ...realtime }
  const first = await importTables(book, both)
  expect([first.creates.stints, first.readings.adds]).toEqual([2, 0])
  expect(first.assumptions.join(" ")).toContain("Import the station files once more")
  const second = await importTables(book, both)
  expect([second.creates.stints, second.readings.adds]).toEqual([0, 4])
})

test("a cancelled import of readings leaves nothing behind", async () => {
  // forty trips of one day, so that there are more readings than are stored between two looks at the world
  const book = await bookWith(`date,hours,landed\n${"2024-05-11,3,1\n".repeat(40)}`, { repeats: "separate" })
  const hourly = sourceOf("t.csv", temperatures(noon - 600 * minute, noon + 600 * minute, 60))
  const stop = new AbortController()
  const watch = {
    signal: stop.signal,
    progress: (done: number) => {
      if (done > 0) stop.abort(new Error("enough"))
    },
  }
  await expect(runImport(book, [hourly], ImportSettings.parse({}), watch)).rejects.toThrow("enough")
  expect(stationReadings(book.db)).toEqual([])
})

test("more lines than a table may have are refused, and nothing is stored", async () => {
  const book = await bookWith()
  const head = new TextEncoder().encode("#YY MM DD hh mm WTMP\n")
  const block = new TextEncoder().encode("2024 05 11 12 00 21\n".repeat(10_000))
  const blocks = 105
  const source: TableSource = {
    name: "huge.txt",
    size: head.length + blocks * block.length,
    bytes: async function* () {
      yield head
      for (let made = 0; made < blocks; made++) yield block
    },
  }
  const problem = await problemOf(runImport(book, [source], ImportSettings.parse({}), context))
  expect(problem.message).toBe("huge.txt: there are more than 1,048,576 lines; split the file.")
  expect(stationReadings(book.db)).toEqual([])
})

test("the page for the terminal tells what is kept and what was assumed", async () => {
  const book = await bookWith()
  const page = importText(
    await previewImport(
      book,
      [sourceOf("level.csv", stationText("gauge-level.csv"))],
      ImportSettings.parse({}),
      context,
    ),
    "preview",
    100,
  )
  expect(page.split("\n").slice(0, 6)).toEqual([
    "Would add 1 station reading to 1 trip. Nothing was stored.",
    "",
    "level.csv: CSV of a water-level station's data service; 3 rows, 2024-05-11 10:00 UTC to 2024-05-11",
    "10:12 UTC.",
    "  2 near a trip, 1 of them kept.",
    "  Water Level: water_level_m, from m; not measured in 1 row",
  ])
  expect(page.replace(/\s+/g, " ")).toContain(
    "taken as metric. US units can be said instead (--station-units us)",
  )
  expect(page).not.toContain("rod-hours")
})

test("the command line takes the units of station files, and no others", async () => {
  const said: string[] = []
  const terminal = {
    out: () => undefined,
    err: (text: string) => void said.push(text),
    input: () => "",
    progress: () => undefined,
    width: 100,
  }
  const status = await runCommand(
    ["import", "log.stintbook", "t.csv", "--station-units", "furlongs"],
    terminal,
  )
  expect(status).toBe(2)
  expect(said.join(" ")).toContain("station_units")
})

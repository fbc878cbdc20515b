// Files that are no tables, or are made to hurt. None of the limits has an outside source; they are ours.
import { expect, test } from "vitest"
import type { TableSource } from "../../../core/exchange/draft.ts"
import { readTables } from "../../../core/exchange/read/readTables.ts"
import { sourceOf } from "./importing.ts"
import { onlyRow, problemOf, readFiles, readLines, refusalsOf } from "./reading.ts"

const options = {
  map: [],
  zone: null,
  spot_zones: new Map<string, string>(),
  home_zone: null,
  now: Date.UTC(2026, 11, 1),
}
const mebibyte = 1024 * 1024
const bytesOf = (...bytes: number[]) => new Uint8Array(bytes)

test.each([
  ["empty file", "", "log.csv: the file is empty."],
  ["spaces only", " \n\n \n", "log.csv: the file is empty."],
  ["byte order mark only", "\uFEFF", "log.csv: the file is empty."],
  ["header only", "date,hours,landed\n", "log.csv: there is a header and nothing below it."],
  ["no header", "1,2,3\n4,5,6\n", "log.csv: no line of headers was found."],
  [
    "prose",
    "We went out at dawn, and nothing bit.\nThen it rained.\n",
    "log.csv: no line of headers was found.",
  ],
  ["delimiter nobody uses", "date^hours^landed\n2024-05-06^3^1\n", "log.csv: no line of headers was found."],
  ["no date", "hours,landed\n3,1\n", "log.csv: no column is date."],
  [
    "zero byte",
    "date,hours\n2024-05-06,3\n2024-05-07,\u00003\n",
    "log.csv: line 3 (byte 36) holds a zero byte",
  ],
  [
    "PNG picture",
    bytesOf(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10, 0, 0, 0, 13),
    "log.csv: line 3 (byte 9) holds a zero byte",
  ],
  ["old workbook", bytesOf(0xd0, 0xcf, 0x11, 0xe0, 0xa1, 0xb1), "log.csv: this is a workbook of an old kind"],
  [
    "ZIP that is no workbook",
    bytesOf(0x50, 0x4b, 3, 4, 20, 0, 0, 0),
    "log.csv: this is not an XLSX workbook",
  ],
])("%s is refused with a sentence", async (_, content, sentence) => {
  const problem = await problemOf(readFiles({ "log.csv": content }))
  expect(problem.code).toBe("table_unreadable")
  expect(problem.message).toContain(sentence)
  expect(problem.details["file"]).toBe("log.csv")
})

test("10,000 columns are refused, 1,000 are read", async () => {
  const wide = (columns: number) => {
    const more = Array.from({ length: columns - 2 }, (_, at) => `c${at}`)
    return [`date,hours,${more.join(",")}`, "2024-05-06,3"]
  }
  const problem = await problemOf(readLines(wide(10_000)))
  expect(problem.code).toBe("table_unreadable")
  expect(problem.message).toContain("10000 columns")
  expect(onlyRow(await readLines(wide(1000))).effort_minutes).toBe(180)
})

/** A source that makes its bytes as they are asked for and counts them. */
function lazySource(start: string, filler: number, total: number): TableSource & { pulled: number } {
  return {
    name: "log.csv",
    size: total,
    pulled: 0,
    async *bytes() {
      const head = new TextEncoder().encode(start)
      this.pulled += head.length
      yield head
      const block = new Uint8Array(65_536).fill(filler)
      for (let made = head.length; made < total; made += block.length) {
        this.pulled += block.length
        yield block
      }
    },
  }
}

test.each([
  ["from the first byte", ""],
  ["below good rows", "date,hours\n2024-05-06,3\n"],
])("a line without an end %s is refused after little more than 1 MiB", async (_, start) => {
  const source = lazySource(start, 0x61, 500 * mebibyte)
  const problem = await problemOf(readTables([source], options))
  expect(problem.code).toBe("table_unreadable")
  expect(problem.message).toContain("longer than 1 MiB")
  expect(source.pulled).toBeLessThan(1.5 * mebibyte)
})

test("a file over 512 MiB is refused by its size, and by its bytes where the size is a lie", async () => {
  const honest = lazySource("date\n", 0x61, 1024 * mebibyte)
  expect((await problemOf(readTables([honest], options))).message).toContain("larger than 512 MiB")
  expect(honest.pulled).toBe(0)
})

test("an unclosed quote far above the end gives up after 1 MiB and keeps the rows before it", async () => {
  const rows = [
    "date,hours,notes",
    '2024-05-06,3,"never',
    ...Array.from({ length: 60_000 }, () => "2024-05-07,2,and so on"),
  ]
  const read = await readLines([rows[0] ?? "", "2024-05-05,1,good", ...rows.slice(1)])
  expect(onlyRow({ ...read, refusals: [] }).date).toBe("2024-05-05")
  expect(refusalsOf(read)).toEqual([
    "3 notes: the quote opened here is never closed within 1 MiB; nothing after it was read",
  ])
})

test("a stray quote that would swallow rows is refused with the lines it takes along", async () => {
  const read = await readLines([
    "date,hours,notes",
    '2024-05-06,3,"open',
    '2024-05-07,2,"closed" here',
    "2024-05-08,1,fine",
  ])
  expect(read.rows.map(({ line }) => line)).toEqual([4])
  expect(refusalsOf(read)).toEqual([
    "2 notes: a quote is opened here and closed in the middle of a cell on a later line; lines 2 to 3 were not read",
  ])
})

test("quotes inside a cell of one line are text", async () => {
  const row = onlyRow(await readLines(["date,hours,notes", '2024-05-06,3,the 3" paddle tail']))
  expect(row.notes).toBe('the 3" paddle tail')
})

test("lines of all systems are counted alike", async () => {
  const read = await readLines(["date,hours\r\n\r2024-05-06,3\r\n2024-05-07,x\r2024-05-08,0\n"])
  expect(read.rows.map(({ line }) => line)).toEqual([3])
  expect(read.refusals.map(({ line }) => line)).toEqual([4, 5])
})

test("a short row is filled up; a long one is refused unless what is over is empty", async () => {
  const read = await readLines([
    "date,hours,landed,notes",
    "2024-05-06,3",
    "2024-05-07,3,1,a,b",
    "2024-05-08,3,1,a,,",
  ])
  expect(read.rows.map(({ line }) => line)).toEqual([2, 4])
  expect(refusalsOf(read)).toEqual(["3 row: 5 cells where the header has 4"])
})

test("reading stops when it is told to", async () => {
  const stop = new AbortController()
  const lines = ["date,hours", ...Array.from({ length: 50_000 }, () => "2024-05-06,3")].join("\n")
  const seen: number[] = []
  const reading = readTables([sourceOf("log.csv", lines)], options, {
    signal: stop.signal,
    progress: (done, of) => {
      expect(of).toBe(50_000)
      seen.push(done)
      stop.abort()
    },
  })
  expect((await problemOf(reading)).code).toBe("cancelled")
  expect(seen.length).toBeGreaterThan(0)
  expect(Math.max(...seen)).toBeLessThan(50_000)
})

test("one file that cannot be read stops the others", async () => {
  const problem = await problemOf(readFiles({ "good.csv": "date,hours\n2024-05-06,3\n", "bad.csv": "" }))
  expect(problem.message).toBe("bad.csv: the file is empty.")
})

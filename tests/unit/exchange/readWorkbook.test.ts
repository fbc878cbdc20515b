// Workbooks made with write-excel-file; hostile ones put together here by APPNOTE.TXT's layout of a ZIP file (from memory).
import { deflateRawSync } from "node:zlib"
import { expect, test } from "vitest"
import writeWorkbook from "write-excel-file/node"
import { pack } from "../../../core/exchange/read/zip.ts"
import { onlyRow, problemOf, readFiles, refusalsOf } from "./reading.ts"

type Cell = string | number | Date | boolean | null
const dated = { type: Date, format: "yyyy-mm-dd hh:mm" } as const
const workbook = (
  sheets: readonly { sheet: string; rows: readonly (readonly Cell[])[] }[],
): Promise<Buffer> =>
  writeWorkbook(
    sheets.map(({ sheet, rows }) => ({
      sheet,
      data: rows.map((row) => row.map((value) => (value instanceof Date ? { value, ...dated } : value))),
    })),
  ).toBuffer()

test("the sheets stints and strikes are read, dates as dates and numbers as numbers", async () => {
  const bytes = await workbook([
    { sheet: "About", rows: [["a log"]] },
    {
      sheet: "Stints",
      rows: [
        ["My log"],
        [],
        ["stint", "start", "hours", "zone", "landed", "notes"],
        ["a", new Date(Date.UTC(2026, 4, 15, 6, 10)), 1.5, "America/New_York", 2, "'=1+1"],
        ["b", new Date(Date.UTC(2026, 4, 15, 8, 0)), -1, "America/New_York", null, "=cmd|'/C calc'!A0"],
      ],
    },
    {
      sheet: "strikes",
      rows: [
        ["stint", "fate", "length_mm"],
        ["a", "landed", 450],
      ],
    },
  ])
  const read = await readFiles({ "log.xlsx": bytes })
  expect(read.rows).toHaveLength(1)
  expect(read.rows[0]).toMatchObject({
    file: "log.xlsx (Stints)",
    line: 4,
    date: "2026-05-15",
    start_at: Date.UTC(2026, 4, 15, 10, 10),
    effort_minutes: 90,
    counts: [{ species: null, strikes: null, hook_ups: null, landed: 2 }],
    notes: "=1+1",
  })
  expect(refusalsOf(read)).toEqual(["5 hours: effort must be more than 0"])
  expect(read.strikes?.map(({ fate, length_mm }) => [fate, length_mm])).toEqual([["landed", 450]])
  expect(read.ignored_lines.map(({ line }) => line)).toEqual([1, 2])
  expect(read.assumptions).toContain("Of log.xlsx, the sheets About were not read.")
})

test("a date without a time, and the first sheet where none is named", async () => {
  const bytes = await workbook([
    {
      sheet: "2026",
      rows: [
        ["Date", "Hours", "Water temp (F)"],
        [new Date(Date.UTC(2026, 4, 15)), 3, 68],
      ],
    },
  ])
  const row = onlyRow(await readFiles({ "log.xlsx": bytes }))
  expect([row.file, row.date]).toEqual(["log.xlsx", "2026-05-15"])
  expect(row.factors.get("water_temp_c")).toBeCloseTo(20, 12)
})

test("a workbook and a text table of the same rows have the same hashes", async () => {
  const rows = [
    ["date", "hours", "landed"],
    ["2026-05-15", 3, 1],
  ] as const
  const [book, text] = [
    onlyRow(await readFiles({ "log.xlsx": await workbook([{ sheet: "stints", rows }]) })),
    onlyRow(await readFiles({ "log.csv": rows.map((row) => row.join(",")).join("\n") })),
  ]
  expect(book.hash).toBe(text.hash)
})

type Part = { name: string; bytes: Buffer }

const packed = (parts: readonly Part[]): Buffer =>
  pack(new Map(parts.map(({ name, bytes }) => [name, bytes])))

/** One entry that unpacks to blanks without end, with a header of its own and a directory that names it. */
function bomb(unpackedBytes: number): Buffer {
  const name = Buffer.from("xl/workbook.xml")
  const blanks = deflateRawSync(Buffer.alloc(unpackedBytes, 0x20))
  const facts = Buffer.alloc(26)
  facts.writeUInt16LE(8, 4)
  facts.writeUInt32LE(blanks.length, 14)
  facts.writeUInt32LE(1000, 18)
  facts.writeUInt16LE(name.length, 22)
  const end = Buffer.alloc(22)
  end.writeUInt32LE(0x06054b50, 0)
  end.writeUInt16LE(1, 10)
  end.writeUInt32LE(30 + name.length + blanks.length, 16)
  const local = [Buffer.from([0x50, 0x4b, 3, 4]), facts, name, blanks]
  return Buffer.concat([...local, Buffer.from([0x50, 0x4b, 1, 2, 20, 0]), facts, Buffer.alloc(14), name, end])
}

const sheetXml = (rows: string): string =>
  `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>${rows}</sheetData></worksheet>`
const bookParts = (sheet: string | Buffer): Part[] => [
  {
    name: "xl/workbook.xml",
    bytes: Buffer.from(
      '<workbook xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main" xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet name="stints" sheetId="1" r:id="rId1"/></sheets></workbook>',
    ),
  },
  {
    name: "xl/_rels/workbook.xml.rels",
    bytes: Buffer.from(
      '<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="rId1" Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/worksheet" Target="worksheets/sheet1.xml"/></Relationships>',
    ),
  },
  { name: "xl/worksheets/sheet1.xml", bytes: Buffer.from(sheet) },
]
const cell = (at: string, text: string): string => `<c r="${at}" t="inlineStr"><is><t>${text}</t></is></c>`
const good = sheetXml(
  `<row r="1">${cell("A1", "date")}${cell("B1", "hours")}</row><row r="2">${cell("A2", "2026-05-15")}${cell("B2", "3")}</row>`,
)

test("a workbook put together by hand is read, so that the hostile ones below fail for their own reason", async () => {
  expect(onlyRow(await readFiles({ "log.xlsx": packed(bookParts(good)) })).effort_minutes).toBe(180)
})

test.each([
  ["a part that unpacks to 300 MiB", () => bomb(300 * 1024 * 1024), "unpacks to more than 256 MiB"],
  [
    "a cell in a row that no sheet has",
    () => packed(bookParts(good.replace('r="2"', 'r="1e9"'))),
    "names a cell that no sheet has",
  ],
  [
    "a row too far down",
    () => packed(bookParts(good.replace('<row r="2">', '<row a=">" r="9999999">'))),
    "more than 1,048,576 rows",
  ],
  ["a cell too far right", () => packed(bookParts(good.replace('r="B2"', 'r="XFD2"'))), "has 16384 columns"],
  [
    "a wide and deep sheet",
    () => packed(bookParts(good.replace('r="B2"', 'r="ALL2"').replace('<row r="2">', '<row r="1000000">'))),
    "20 million cells",
  ],
  ["a file cut short", () => packed(bookParts(good)).subarray(0, 600), "cut off"],
  ["XML that is none", () => packed(bookParts("<worksheet><sheetData><row")), "not an XLSX workbook"],
  [
    "no sheet in it",
    () => packed([{ name: "readme.txt", bytes: Buffer.from("hello") }]),
    "not an XLSX workbook",
  ],
])("%s is refused", async (_, make, sentence) => {
  const problem = await problemOf(readFiles({ "log.xlsx": make() }))
  expect(problem.code).toBe("table_unreadable")
  expect(problem.message).toContain(sentence)
})

test("entities that a workbook declares are not expanded", async () => {
  const declared = `<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>`
  const sheet = good.replace("2026-05-15", "&b;")
  const read = await readFiles({ "log.xlsx": packed(bookParts(`${declared}${sheet}`)) })
  expect(read.refusals.map(({ value }) => value)).toEqual(["&b;"])
})

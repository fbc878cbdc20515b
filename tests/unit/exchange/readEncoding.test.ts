// Encodings as written by Node's Buffer; the Windows-1252 bytes 0x80 to 0x9F are those of the WHATWG index (from memory).
import { expect, test } from "vitest"
import { onlyRow, problemOf, readFiles } from "./reading.ts"

const table = "date,hours,notes\r\n2024-05-06,3,Käringön – “slick”\r\n"
const utf16 = (text: string, bigEnd: boolean): Buffer => {
  const bytes = Buffer.from(text, "utf16le")
  return bigEnd ? bytes.swap16() : bytes
}

test.each([
  ["UTF-8", Buffer.from(table), []],
  ["UTF-8 with a mark", Buffer.from(`\uFEFF${table}`), []],
  ["UTF-16 little end first, with a mark", utf16(`\uFEFF${table}`, false), []],
  ["UTF-16 big end first, with a mark", utf16(`\uFEFF${table}`, true), []],
  ["UTF-16 little end first", utf16(table, false), ["log.csv is read as UTF-16, little end first."]],
  ["UTF-16 big end first", utf16(table, true), ["log.csv is read as UTF-16, big end first."]],
])("%s is read as it was meant", async (_, bytes, said) => {
  const read = await readFiles({ "log.csv": bytes }, { zone: "UTC" })
  expect(onlyRow(read).notes).toBe("Käringön – “slick”")
  expect(read.assumptions.filter((sentence) => sentence.includes("read as"))).toEqual(said)
})

test("one byte that is no UTF-8, late in a long file, makes it Windows-1252", async () => {
  const rows = Array.from({ length: 5000 }, () =>
    "2024-05-06,3,a plain note, with more in it".replace(", with", " with"),
  )
  const bytes = Buffer.concat([
    Buffer.from(`date,hours,notes\n${rows.join("\n")}\n2024-05-07,2,caf`),
    Buffer.from([0xe9, 0x20, 0x80, 0x0a]),
  ])
  const read = await readFiles({ "log.csv": bytes })
  expect(read.rows.at(-1)?.notes).toBe("café €")
  expect(read.assumptions).toContain("log.csv is read as Windows-1252.")
})

test("a character cut in two by the pieces of a file is put together", async () => {
  const bytes = Buffer.from(table.replace("Käringön", "ä".repeat(70_000)))
  expect(onlyRow(await readFiles({ "log.csv": bytes })).notes).toBe(`${"ä".repeat(70_000)} – “slick”`)
})

test("UTF-16 that is broken is refused", async () => {
  const bytes = Buffer.concat([utf16(`\uFEFF${table}`, false), Buffer.from([0x00, 0xdc, 0x41])])
  expect((await problemOf(readFiles({ "log.csv": bytes }))).code).toBe("table_unreadable")
})

test.each([
  [",", "commas"],
  [";", "semicolons"],
  ["\t", "tabs"],
  ["|", "vertical bars"],
])("cells parted by %j are found, and said unless they are commas", async (delimiter, words) => {
  const text = [
    ["date", "hours", "notes"],
    ["2024-05-06", "3", "a"],
  ]
    .map((cells) => cells.join(delimiter))
    .join("\n")
  const read = await readFiles({ "log.csv": text })
  expect(onlyRow(read).notes).toBe("a")
  expect(read.assumptions.some((sentence) => sentence.includes(words))).toBe(delimiter !== ",")
})

import { expect, test } from "vitest"
import { checkFile } from "../../core/store/check.ts"
import type { Logbook } from "../../core/store/logbook.ts"
import { importTables } from "../unit/exchange/importing.ts"
import { temporaryLogbook } from "../unit/store/temporaryLogbook.ts"

const table = (day: string, rows: number): string =>
  ["trip,date,hours,lure class,landed,notes"]
    .concat(Array.from({ length: rows }, (_, i) => `T${i},${day},2,jig,${i % 4},note ${"x".repeat(300)}`))
    .join("\n")

const held = (book: Logbook): unknown[] =>
  ["trip", "stint", "strike", "change", "import_batch", "import_row"].map((name) =>
    book.db.prepare(`SELECT count(*) FROM ${name}`).pluck().get(),
  )

test("a disk that fills up half way through an import leaves what was there before, and a sentence", async () => {
  const book = temporaryLogbook()
  await importTables(book, { "a.csv": table("2024-05-01", 20) })
  const before = held(book)
  book.db.pragma(`max_page_count = ${Number(book.db.pragma("page_count", { simple: true })) + 20}`)
  await expect(importTables(book, { "b.csv": table("2024-05-02", 3000) })).rejects.toThrow(
    /There is no room left to write .*; nothing was changed/,
  )
  expect(held(book)).toEqual(before)
  expect(checkFile(book.db)).toEqual([])
  book.db.pragma("max_page_count = 1000000")
  const done = await importTables(book, { "b.csv": table("2024-05-02", 3000) })
  expect(done.creates.stints).toBe(3000)
})

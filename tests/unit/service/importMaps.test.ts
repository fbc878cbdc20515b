import { expect, test } from "vitest"
import { z } from "zod"
import { previewImport } from "../../../core/service/imports.ts"
import { makeService } from "../../../core/service/service.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { ImportSettings } from "../../../shared/imports.ts"
import { context, importTables, sourceOf } from "../exchange/importing.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"
import { named } from "./startCore.ts"

const preview = (book: Logbook, text: string, map: string[] = []) =>
  previewImport(book, [sourceOf("next.csv", text)], ImportSettings.parse({ map }), context)

const header = "Tag;Boat hours;Köder;Kept fish"
const map = ["Tag=date:dmy", "Boat hours=hours", "Köder=lure_class", "Kept fish=landed"]
const first = `${header}\n11.05.2024;2;spoon;1`

test("what was said of a table's columns holds for the next table of the same header, and is said", async () => {
  const book = temporaryLogbook()
  expect((await importTables(book, { "first.csv": first }, { map })).remembered).toEqual([])
  const next = await preview(book, "KODER; tag ;kept fish;Boat  Hours\njig;12.05.2024;0;3")
  expect(new Set(next.remembered)).toEqual(new Set(map))
  expect(next.assumptions[0]).toMatch(
    /^Columns are taken as at the last import of a table with the same header: /,
  )
  expect([next.creates.trips, next.rod_hours, next.refused_rows]).toEqual([1, 3, 0])
})

test("the import that follows does as its preview said, and remembers on", async () => {
  const book = temporaryLogbook()
  await importTables(book, { "first.csv": first }, { map })
  const done = await importTables(book, { "next.csv": `${header}\n12.05.2024;3;jig;0` })
  expect([done.creates.trips, done.remembered.length]).toEqual([1, 4])
  const kept = z
    .array(z.string())
    .parse(book.db.prepare("SELECT settings FROM import_batch ORDER BY id").pluck().all())
    .map((text) => ImportSettings.parse(JSON.parse(text)).map)
  expect(kept[1]?.toSorted()).toEqual(kept[0]?.toSorted())
  expect((await preview(book, `${header}\n13.05.2024;3;jig;0`)).remembered).toHaveLength(4)
})

test("a mapping typed now replaces all that is remembered, and the last one said is kept", async () => {
  const book = temporaryLogbook()
  await importTables(book, { "first.csv": first }, { map })
  const other = ["Tag=date:dmy", "Boat hours=hours"]
  const typed = await preview(book, `${header}\n12.05.2024;3;jig;0`, other)
  expect([typed.remembered, typed.creates.lure_classes]).toEqual([[], 0])
  await importTables(book, { "next.csv": `${header}\n12.05.2024;3;jig;0` }, { map: other })
  expect(new Set((await preview(book, `${header}\n14.05.2024;3;jig;0`)).remembered)).toEqual(new Set(other))
})

test("another header, or a header that speaks for itself, starts from nothing", async () => {
  const book = temporaryLogbook()
  await importTables(book, { "first.csv": first }, { map })
  const plain = await preview(book, "date,hours,landed\n2024-05-12,3,0")
  expect([plain.remembered, plain.creates.trips]).toEqual([[], 1])
  await expect(preview(book, "Tag;Boat hours;Köder\n12.05.2024;3;jig")).rejects.toThrow(
    /no line of headers|no column is/,
  )
})

test("an import taken back is forgotten, what was said of its columns is not", async () => {
  const book = temporaryLogbook()
  const { batch } = await importTables(book, { "first.csv": first }, { map })
  const service = makeService(
    book,
    async () => Promise.reject(new Error("nothing is asked")),
    () => undefined,
  )
  await service["import.take_back"]({ batch: batch ?? "", edited_too: false }, context)
  const again = await preview(book, first)
  expect([again.creates.trips, again.remembered.length]).toEqual([1, 4])
})

test("an import that is cancelled or refused remembers nothing", async () => {
  const book = temporaryLogbook()
  const wrong = `${header}\nnever;2;spoon;1`
  await expect(importTables(book, { "first.csv": wrong }, { map, all_or_nothing: true })).rejects.toThrow(
    /cannot be taken/,
  )
  expect(book.db.prepare("SELECT count(*) FROM setting").pluck().get()).toBe(0)
})

test("the rows of two tables are each told by their own header", async () => {
  const book = temporaryLogbook()
  const stints = "Ausfahrt;Tag;Boat hours\nA;11.05.2024;2"
  const strikes = "stint;What became of it;Art\n1;landed;perch"
  await importTables(
    book,
    { "stints.csv": stints, "strikes.csv": strikes },
    { map: ["Ausfahrt=trip", "Tag=date:dmy", "Boat hours=hours", "What became of it=fate", "Art=species"] },
  )
  const alone = await preview(book, "Ausfahrt;Tag;Boat hours\nB;12.05.2024;2")
  expect(new Set(alone.remembered)).toEqual(new Set(["Ausfahrt=trip", "Tag=date:dmy", "Boat hours=hours"]))
})

test("refused rows come back as tables of the same header, with the reasons, and can be imported once mended", async () => {
  const book = temporaryLogbook()
  const service = makeService(
    book,
    async () => Promise.reject(new Error("nothing is asked")),
    () => undefined,
  )
  const text = "Trip,Date,Hours,Landed,Notes\nA,2024-05-11,2,1,fine\nB,never,2,1,=1+1\nC,2024-05-13,2,-4,\n"
  const files = [named("days.csv", text), named("good.csv", "date,hours,landed\n2024-05-20,1,1")]
  const settings = ImportSettings.parse({})
  const refused = await service["import.refused"]({ files, settings }, context)
  expect(refused.files.map(({ name }) => name)).toEqual(["days refused.csv"])
  const lines = new TextDecoder().decode(refused.files[0]?.bytes).trim().split("\r\n")
  expect(lines[0]).toBe("Trip,Date,Hours,Landed,Notes,Refused because")
  expect(lines).toHaveLength(3)
  expect(lines[1]).toMatch(/^B,never,2,1,.*1\+1.*,.*date/i)
  expect(lines[1]?.split(",")[4]).not.toMatch(/^=/)
  await service["import.commit"]({ files, settings }, context)
  const mended = lines.join("\n").replace("never", "2024-05-12").replace("-4", "4")
  const done = await importTables(book, { "days refused.csv": mended })
  expect([done.creates.trips, done.refused_rows, done.landed]).toEqual([2, 0, 5])
  expect(
    book.db.prepare("SELECT notes FROM stint WHERE notes IS NOT NULL ORDER BY notes").pluck().all(),
  ).toEqual(["=1+1", "fine"])
})

import { expect, test } from "vitest"
import { z } from "zod"
import { takeBackImport } from "../../../core/exchange/takeBack.ts"
import { makeService } from "../../../core/service/service.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { add, put, rowById } from "../../../core/store/put.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"
import { context, factRows, importTables } from "./importing.ts"

const table = `trip,date,start,end,spot,angler,lure class,pause_s,water_temp_c,landed,notes
A,2024-05-11,06:00,07:00,drain,Ada,jig,2,20,2,kept an eye on the drain
A,2024-05-11,07:00,08:00,bar,Ada,cork,,21,0,
B,2024-05-12,07:00,08:00,bar,Ben,cork,,21,1,`

const live = (book: Logbook): Record<string, number> => {
  const Count = z.int()
  const entities = [
    "angler",
    "spot",
    "species",
    "lure_class",
    "lure",
    "presentation",
    "trip",
    "trip_angler",
    "stop",
    "stint",
    "strike",
    "observation",
  ]
  return Object.fromEntries(
    entities.map((name) => [
      name,
      Count.parse(book.db.prepare(`SELECT count(*) FROM ${name} WHERE deleted_at IS NULL`).pluck().get()),
    ]),
  )
}

const batchOf = async (book: Logbook, text = table): Promise<string> => {
  const { batch } = await importTables(book, { "stints.csv": text })
  if (batch === null) throw new Error("nothing was imported")
  return batch
}
const takeBack = (book: Logbook, batch: string, editedToo = false) =>
  book.change((change) => takeBackImport(change, batch, editedToo))
const idOf = (book: Logbook, sql: string): string => z.string().parse(book.db.prepare(sql).pluck().get())

test("taking an import back leaves no trace in the record", async () => {
  const book = temporaryLogbook()
  const before = live(book)
  const result = takeBack(book, await batchOf(book))
  expect(result.stayed).toEqual([])
  expect(live(book)).toEqual(before)
  expect(factRows(book, "stint_id")).toEqual([])
  await batchOf(book)
  expect(factRows(book, "landed").map((fact) => fact["landed"])).toEqual([2, 0, 1])
})

test("only the batch that is named goes", async () => {
  const book = temporaryLogbook()
  await batchOf(book)
  const kept = live(book)
  const second = await batchOf(book, table.replaceAll("2024", "2023").replace("jig", "spoon"))
  takeBack(book, second)
  expect(live(book)).toEqual(kept)
})

test("a stint edited since stays with all that it stands on, and is listed", async () => {
  const book = temporaryLogbook()
  const batch = await batchOf(book)
  const id = idOf(book, "SELECT id FROM stint WHERE notes IS NOT NULL")
  book.change((change) => {
    const stint = rowById(book.db, "stint", id)
    if (stint) put(change, "stint", { ...stint, notes: "a better note" })
  })
  const result = takeBack(book, batch)
  expect(result.stayed.find((row) => row.id === id)).toMatchObject({
    entity: "stint",
    why: "edited since the import",
  })
  expect(factRows(book, "notes", "landed", "spot", "lure_class", "angler", "water_temp_c")).toEqual([
    { notes: "a better note", landed: 2, spot: "drain", lure_class: "jig", angler: "Ada", water_temp_c: 20 },
  ])
  expect(live(book)).toMatchObject({ spot: 1, angler: 1, lure_class: 1, trip: 1, stint: 1, strike: 2 })
})

test("edited rows go too where the user says so", async () => {
  const book = temporaryLogbook()
  const batch = await batchOf(book)
  book.change((change) => {
    const stint = rowById(book.db, "stint", idOf(book, "SELECT id FROM stint WHERE notes IS NOT NULL"))
    if (stint) put(change, "stint", { ...stint, notes: "a better note" })
  })
  expect(takeBack(book, batch, true).stayed).toEqual([])
  expect(factRows(book, "stint_id")).toEqual([])
})

test("what other records use now stays", async () => {
  const book = temporaryLogbook()
  const batch = await batchOf(book)
  const spot = idOf(book, "SELECT id FROM spot WHERE name = 'bar'")
  book.change((change) => {
    const trip = rowById(book.db, "trip", idOf(book, "SELECT id FROM trip WHERE label = 'A'"))
    if (!trip) return
    const id = add(change, "trip", { ...trip, label: "C" })
    add(change, "stop", { trip_id: id, ordinal: 0, spot_id: spot })
  })
  const result = takeBack(book, batch)
  expect(result.stayed).toEqual([{ entity: "spot", id: spot, what: "spot", why: "used by other records" }])
})

test("an import is taken back once, and an unknown one is told", async () => {
  const book = temporaryLogbook()
  const batch = await batchOf(book)
  takeBack(book, batch)
  expect(() => takeBack(book, batch)).toThrow(/was taken back before/)
  expect(() => takeBack(book, "no such thing")).toThrow(/There is no import no such thing/)
})

test("undo takes the latest import back whole once what came later is undone, and redo brings it in again", async () => {
  const book = temporaryLogbook()
  const service = makeService(
    book,
    async () => Promise.reject(new Error("nothing is asked")),
    () => undefined,
  )
  const empty = live(book)
  await batchOf(book)
  const imported = live(book)
  const spot = idOf(book, "SELECT id FROM spot WHERE name = 'drain'")
  await service["spots.save"]({ id: spot, ground: "mud" }, context)
  const undone = []
  for (let i = 0; i < 2; i++) undone.push((await service["history.undo_last"]({}, context)).said)
  expect(undone).toEqual(["changed spot drain", "import of stints.csv"])
  expect(live(book)).toEqual(empty)
  expect(await service["history.next"]({}, context)).toMatchObject({
    undo: null,
    redo: { said: "import of stints.csv" },
  })
  await service["history.redo"]({}, context)
  expect(live(book)).toEqual(imported)
  expect((await importTables(book, { "stints.csv": table })).batch).toBeNull()
  await service["history.undo_last"]({}, context)
  expect((await importTables(book, { "stints.csv": table })).batch).not.toBeNull()
})

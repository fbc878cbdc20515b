import fc from "fast-check"
import { join } from "node:path"
import { expect, test } from "vitest"
import { z } from "zod"
import { Logbook } from "../../../core/store/logbook.ts"
import { createLogbook, openLogbook } from "../../../core/store/open.ts"
import { type FishEdit, fishColumns } from "../../../shared/fishList.ts"
import { type SheetColumn, type SheetEdit, sheetColumns } from "../../../shared/sheet.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { type DayBook, dayBook } from "./dayBook.ts"

const Rows = z.array(z.record(z.string(), z.unknown()))

/** Everything live of a day, as rows. */
const rowsOf = ({ book }: DayBook): unknown =>
  ["trip", "stop", "stint", "strike", "observation", "unread"].map((table) =>
    Rows.parse(book.db.prepare(`SELECT * FROM ${table} WHERE deleted_at IS NULL ORDER BY id`).all()).map(
      (row) => ({
        ...row,
        updated_at: 0,
      }),
    ),
  )

const typed: Readonly<Record<SheetColumn, readonly string[]>> = {
  who: ["", "tob", "nel", "all", "xx"],
  start: ["620", "+25", "~705", "1315", "", "?", "30m", "9x9"],
  end: ["705", "+40", "45m", "", "?", "2500", "1400 -10m"],
  spot: ["md", "sb/drifting", "nj", "", "zz"],
  presentation: ["tw", "pt/2x3*2", "ck+p4.gg", "+sp", "", "?", "qq"],
  rods: ["1", "2", "0"],
  came: ["mml rd24,22", "g", "st*5", "", "rd24x"],
  readings: ["w71 v st", "wind 6 sw @634 w72", "", "w"],
  why: ["s", "lost", "", "q"],
  notes: ["wind got up", ""],
  more: ["sight", "depth=4", "-5m", "", "zzz"],
}

const oneEdit = fc
  .record({
    act: fc.constantFrom("set", "set", "set", "add", "add", "remove", "paste", "tape", "fish", "fish"),
    row: fc.nat(9),
    column: fc.constantFrom(...sheetColumns),
    text: fc.nat(9),
  })
  .map(({ act, row, column, text }) => ({
    act,
    row,
    column,
    text: typed[column][text % typed[column].length] ?? "",
  }))

test("any sequence of edits, all undone after a restart, gives the same rows; done again, it gives the last ones", async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(oneEdit, { minLength: 1, maxLength: 12 }), async (steps) => {
      const file = join(temporaryFolder(), "a.stintbook")
      const first = dayBook(new Logbook(createLogbook(file)))
      const trip = first.trip()
      await first.call("day.save", {
        trip,
        was: "",
        text: "@ w70\n620 md tw.m rd24\n705 pt\n750 sb ck+p4.g\n830x",
      })
      const start = rowsOf(first)
      let acts = 0
      for (const { act, row, column, text } of steps) {
        const { rows } = await first.call("day.cells", { trip })
        const id = rows[row % Math.max(1, rows.length)]?.id
        const edit: SheetEdit =
          act === "remove" && id !== undefined
            ? { do: "remove", rows: [id] }
            : act === "paste"
              ? { do: "paste", row: id ?? null, column, block: [[text], [text]] }
              : act === "add" || id === undefined
                ? { do: "add", cells: { [column]: text } }
                : { do: "set", row: id, column, text }
        if (act === "fish") acts += await editFish(first, trip, row, text)
        else if (act === "tape") {
          const { tape } = await first.call("day.read", { trip })
          const saved = await first.call("day.save", { trip, was: tape, text: `${tape}\n+20 nj sp.m\n+20x` })
          acts += saved.act === null ? 0 : 1
        } else acts += (await first.call("day.edit", { trip, edits: [edit] })).act === null ? 0 : 1
      }
      const end = rowsOf(first)
      first.book.close()
      const book = new Logbook(await openLogbook(file))
      const again = dayBookOf(book)
      for (let i = 0; i < acts; i++) await again.call("history.undo_last", {})
      expect(rowsOf(again)).toEqual(start)
      for (let i = 0; i < acts; i++) await again.call("history.redo", {})
      expect(rowsOf(again)).toEqual(end)
      await expect(again.call("history.redo", {})).rejects.toThrow("There is nothing to do again.")
      book.close()
    }),
    { numRuns: 25, seed: 20260515 },
  )
})

const fishTexts = ["", "700", "1300", "2", "9", "m", "d", "rd", "zz", "24", "1.5lb", "p", "k", "lip"]

/** One edit of the list of fish: a new one, one removed, or a cell of it. Gives how many acts that made. */
async function editFish({ call }: DayBook, trip: string, at: number, text: string): Promise<number> {
  const { rows } = await call("fish.cells", { trip })
  const column = fishColumns[at % fishColumns.length] ?? "at"
  const typedText = fishTexts[(at * 7 + text.length) % fishTexts.length] ?? ""
  const row = rows[at % Math.max(1, rows.length)]?.id
  const edit: FishEdit =
    row === undefined || at % 4 === 0
      ? { do: "add", cells: { [column]: typedText } }
      : at % 5 === 0
        ? { do: "remove", rows: [row] }
        : { do: "set", row, column, text: typedText }
  return (await call("fish.edit", { trip, edits: [edit] })).act === null ? 0 : 1
}

/** The service of a logbook that is there already. */
const dayBookOf = (book: Logbook): DayBook => dayBook(book, false)

test("undo and redo go by words, one act at a time, and something new ends what could be done again", async () => {
  const { call, trip } = dayBook()
  const id = trip()
  const { tape } = await call("day.save", { trip: id, was: "", text: "620 md tw\n705x" })
  await call("day.save", { trip: id, was: tape, text: `${tape}\n710 pt\n800x` })
  const said = async () => {
    const { undo, redo } = await call("history.next", {})
    return [undo?.said, redo?.said]
  }
  expect(await said()).toEqual(["1 stint typed", undefined])
  await call("history.undo_last", {})
  await call("history.undo_last", {})
  expect((await call("day.read", { trip: id })).tape).toBe("")
  expect((await said())[1]).toBe("1 stint typed")
  await call("history.redo", {})
  expect((await call("day.read", { trip: id })).tape).toBe("620-705 md tw")
  await call("day.save", { trip: id, was: "620-705 md tw", text: "620-705 md tw.m" })
  expect(await said()).toEqual(["1 stint changed", undefined])
})

test("a deleted spot is listed, brought back, and its record told", async () => {
  const { call, id, book } = dayBook()
  const { removeById } = await import("../../../core/store/put.ts")
  book.change((change) => removeById(change, "spot", id("lr")))
  expect(await call("history.deleted", {})).toMatchObject([{ entity: "spot", name: "Long Rake" }])
  const { said } = await call("history.bring_back", { entity: "spot", id: id("lr") })
  expect(said).toBe("spot Long Rake brought back")
  expect(await call("history.deleted", {})).toEqual([])
  const versions = await call("history.of", { entity: "spot", id: id("lr") })
  expect(versions.map(({ changes }) => changes.map(({ column }) => column))).toEqual([
    [],
    ["deleted_at"],
    ["deleted_at"],
  ])
})

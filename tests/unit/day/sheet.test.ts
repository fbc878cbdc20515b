import { expect, test } from "vitest"
import type { Sheet, SheetColumn } from "../../../shared/sheet.ts"
import { dayBook } from "./dayBook.ts"

/** Some columns of a sheet as text. */
const texts = (sheet: Sheet, ...columns: SheetColumn[]): string[][] =>
  sheet.rows.map(({ cells }) => columns.map((column) => cells[column].text))

test("rows typed one below another close one another, and carry on spot and presentation", async () => {
  const { call, trip } = dayBook()
  const id = trip()
  await call("day.edit", {
    trip: id,
    edits: [{ do: "add", cells: { start: "620", spot: "md", presentation: "tw", came: "mml rd24,22" } }],
  })
  await call("day.edit", {
    trip: id,
    edits: [{ do: "add", cells: { start: "+45", presentation: "pt/2x3*2", came: "m rd19" } }],
  })
  const { sheet, said } = await call("day.edit", {
    trip: id,
    edits: [{ do: "add", cells: { start: "750", spot: "sb", end: "+40", readings: "w71 v st" } }],
  })
  expect(said).toBe("1 stint added, 1 stint changed and 1 reading noted")
  expect(texts(sheet, "start", "end", "spot", "presentation", "rods", "came", "readings")).toEqual([
    ["6:20", "7:05", "md", "tw", "1", "mml rd24,22", ""],
    ["7:05", "7:50", "md", "pt/2x3", "2", "m rd19", ""],
    ["7:50", "8:30", "sb", "pt/2x3", "2", "", "w71 v stained"],
  ])
  expect(sheet.times).toEqual([])
  expect(sheet.totals).toEqual({ stints: 3, rod_hours: 45 / 60 + 90 / 60 + 80 / 60, landed: 3, strikes: 7 })
})

test("a cell that cannot be read is kept as typed, with its sentence, until it is fixed", async () => {
  const { call, trip } = dayBook()
  const id = trip()
  const { sheet } = await call("day.edit", {
    trip: id,
    edits: [{ do: "paste", row: null, column: "start", block: [["620", "705", "md", "ptt"]] }],
  })
  const [row] = sheet.rows
  expect(row?.cells.presentation).toEqual({
    text: "ptt",
    carried: false,
    said: "",
    unclear: {
      from: 0,
      to: 3,
      sentence: '"ptt" is no code of yours. Wanted here: a presentation.',
      choices: ["pt", "p3", "p4", "pb", "pk", "pl"],
    },
  })
  const again = await call("day.cells", { trip: id })
  expect(again).toEqual(sheet)
  const fixed = await call("day.edit", {
    trip: id,
    edits: [{ do: "set", row: row?.id ?? "", column: "presentation", text: "pt" }],
  })
  expect(fixed.sheet.rows[0]?.cells.presentation.unclear).toBeNull()
  expect(fixed.said).toBe("1 cell changed")
})

test("gaps and overlaps are told with a fix that one key can carry out; two rods at once are neither", async () => {
  const { call, trip } = dayBook()
  const id = trip()
  await call("day.save", {
    trip: id,
    was: "",
    text: "620-700 md tw\n710-800 pt\n750-830 sp\n840 ck|p4\n900x",
  })
  const sheet = await call("day.cells", { trip: id })
  expect(sheet.times.map(({ kind, sentence }) => [kind, sentence])).toEqual([
    ["gap", "Nothing is written from 7:00 to 7:10, 10 minutes."],
    ["overlap", "This row begins at 7:50, while the one above runs to 8:00."],
    ["gap", "Nothing is written from 8:30 to 8:40, 10 minutes."],
  ])
  const fixes = sheet.times.flatMap(({ fixes: [first] }) => first?.edits ?? [])
  const fixed = await call("day.edit", { trip: id, edits: fixes })
  expect(fixed.sheet.times).toEqual([])
  expect(texts(fixed.sheet, "start", "end")).toEqual([
    ["6:20", "7:10"],
    ["7:10", "7:50"],
    ["7:50", "8:40"],
    ["8:40", "9:00"],
    ["8:40", "9:00"],
  ])
})

test("a gap that two anglers have is told once, and one fix mends it for both", async () => {
  const { call, trip } = dayBook()
  const id = trip({}, ["tob", "nel"])
  await call("day.save", {
    trip: id,
    was: "",
    text: "620-700 md tw\nnel> 620-700 ck\n710 pt\nnel> 710 sp\n800x",
  })
  const { times } = await call("day.cells", { trip: id })
  expect(times.map(({ sentence }) => sentence)).toEqual(["Nothing is written from 7:00 to 7:10, 10 minutes."])
  expect(times[0]?.fixes.map(({ label }) => label)).toEqual([
    "End the rows above at 7:10",
    "Begin these rows at 7:00",
  ])
  const { sheet, said } = await call("day.edit", { trip: id, edits: times[0]?.fixes[0]?.edits ?? [] })
  expect(sheet.times).toEqual([])
  expect(said).toBe("2 cells changed")
  const rows = texts(sheet, "who", "start", "end").map((row) => row.join(" "))
  expect(rows.toSorted()).toEqual(["nel 6:20 7:10", "nel 7:10 8:00", "tob 6:20 7:10", "tob 7:10 8:00"])
})

test("a cell changed elsewhere meanwhile is not overwritten", async () => {
  const { call, trip } = dayBook()
  const id = trip()
  const { sheet } = await call("day.edit", {
    trip: id,
    edits: [{ do: "add", cells: { start: "620", end: "700", presentation: "tw" } }],
  })
  const row = sheet.rows[0]?.id ?? ""
  const set = (text: string, was: string) =>
    call("day.edit", { trip: id, edits: [{ do: "set", row, column: "presentation", text, was }] })
  await set("pt", "tw")
  const { sheet: kept, told, act } = await set("sp", "tw")
  expect(act).toBeNull()
  expect(told).toEqual([
    'A cell (presentation) was changed elsewhere to "pt" meanwhile and stays so; "sp" was not put in its place.',
  ])
  expect(texts(kept, "presentation")).toEqual([["pt"]])
})

test("shared effort in the grid: a plus joins the row above, and the stretch is split evenly", async () => {
  const { call, trip } = dayBook()
  const id = trip()
  await call("day.edit", {
    trip: id,
    edits: [{ do: "add", cells: { start: "945", end: "1025", spot: "nj", presentation: "ck+p4.gg" } }],
  })
  const { day, tape } = await call("day.read", { trip: id })
  expect(tape).toBe("945-1025 nj ck+p4.gg")
  expect(day.stints.map(({ effort_minutes, effort_source }) => [effort_minutes, effort_source])).toEqual([
    [20, "shared"],
    [20, "shared"],
  ])
  const sheet = await call("day.cells", { trip: id })
  expect(texts(sheet, "presentation", "came")).toEqual([
    ["ck", ""],
    ["+p4", "gg"],
  ])
})

test("a block goes to a spreadsheet and back unchanged, and fill down copies a cell", async () => {
  const { call, trip } = dayBook()
  const [one, other] = [trip(), trip()]
  await call("day.save", {
    trip: one,
    was: "",
    text: "@ w71\n~620 md tw.mml rd24,22k\n705 pt/2x3.m rd19 !slow; wind got up\n750-830 sb ck.l st15,?",
  })
  const sheet = await call("day.cells", { trip: one })
  const columns = [
    "who",
    "start",
    "end",
    "spot",
    "presentation",
    "rods",
    "came",
    "readings",
    "why",
    "notes",
    "more",
  ] as const
  const { sheet: pasted, said } = await call("day.edit", {
    trip: other,
    edits: [{ do: "paste", row: null, column: "who", block: texts(sheet, ...columns) }],
  })
  expect(texts(pasted, ...columns)).toEqual(texts(sheet, ...columns))
  expect(said).toBe("3 stints pasted and 1 reading noted")
  const [first, , third] = pasted.rows.map(({ id }) => id)
  const filled = await call("day.edit", {
    trip: other,
    edits: [{ do: "fill", rows: [first ?? "", third ?? ""], column: "why" }],
  })
  expect(filled.act).toBeNull()
  const both = await call("day.edit", {
    trip: other,
    edits: [{ do: "fill", rows: [first ?? "", third ?? ""], column: "presentation" }],
  })
  expect(texts(both.sheet, "presentation")).toEqual([["tw"], ["pt/2x3"], ["tw"]])
})

test("a row that begins later leaves the end of the row above, where one was given", async () => {
  const { call, trip } = dayBook()
  const day = trip()
  const add = (cells: Record<string, string>) =>
    call("day.edit", { trip: day, edits: [{ do: "add", cells }] })
  await add({ start: "745", spot: "md", presentation: "ck" })
  await add({ start: "755", end: "805", presentation: "sp" })
  const { sheet } = await add({ start: "850" })
  expect(sheet.rows.map(({ cells }) => [cells.start.text, cells.end.text])).toEqual([
    ["7:45", "7:55"],
    ["7:55", "8:05"],
    ["8:50", ""],
  ])
})

import { expect, test } from "vitest"
import type { FishColumn, FishEdit, FishList } from "../../../shared/fishList.ts"
import { dayBook } from "./dayBook.ts"

const texts = ({ rows }: FishList, ...columns: FishColumn[]): string[][] =>
  rows.map(({ cells }) => columns.map((column) => (cells[column].carried ? "" : cells[column].text)))
const wrong = ({ rows }: FishList): string[] =>
  rows.flatMap(({ cells }) => Object.values(cells).flatMap(({ unclear }) => unclear?.sentence ?? []))

/** Three stints, 6:20 to 8:30, with some fish; calls that edit the list. */
async function dayWithFish() {
  const { call, trip, id, book } = dayBook()
  const day = trip()
  await call("day.save", {
    trip: day,
    was: "",
    text: "620 md tw.m rd24,22r\n705 pt.l\n750-830 sb ck",
  })
  const edit = (...edits: FishEdit[]) => call("fish.edit", { trip: day, edits })
  const list = () => call("fish.cells", { trip: day })
  const tape = async () => (await call("day.read", { trip: day })).tape
  return { call, day, edit, list, tape, id, book }
}

test("all strikes of a trip stand in one list, as they are typed", async () => {
  const { list } = await dayWithFish()
  expect(texts(await list(), "at", "stint", "fate", "species", "length", "kept")).toEqual([
    ["", "1 tw", "missed", "", "", ""],
    ["", "1 tw", "landed", "rd", "24", ""],
    ["", "1 tw", "landed", "rd", "22", "released"],
    ["", "2 pt", "lost", "", "", ""],
  ])
  expect((await list()).stints.map(({ text }) => text)).toEqual(["1 tw", "2 pt", "3 ck"])
})

test("a new row goes to the stint its time falls in, else to that of the row above, or to one that is named", async () => {
  const { edit, tape } = await dayWithFish()
  const { said, sheet } = await edit({ do: "add", cells: { at: "755", species: "st", length: "16" } })
  expect(said).toBe("1 strike added")
  expect(texts(sheet, "at", "stint", "fate", "species", "length").at(-1)).toEqual([
    "7:55",
    "3 ck",
    "landed",
    "st",
    "16",
  ])
  await edit({ do: "add", cells: { fate: "m" } })
  await edit({ do: "add", cells: { stint: "pt", fate: "b", took: "p", where: "lip" } })
  expect(await tape()).toBe("620 md tw.m rd24,22r\n705 pt.l .b:p/lip\n750-830 sb ck st16@755 .m")
})

test("a changed time or stint moves a strike and keeps its row; the tape tells the same day", async () => {
  const { edit, list, tape } = await dayWithFish()
  const before = await list()
  const row = before.rows[1]?.id ?? ""
  const { sheet } = await edit({ do: "set", row, column: "at", text: "730", was: "" })
  expect(sheet.rows.map(({ id }) => id).toSorted()).toEqual(before.rows.map(({ id }) => id).toSorted())
  expect(await tape()).toBe("620 md tw.m rd22r\n705 pt.l rd24@730\n750-830 sb ck")
  // At 7:30 the third stint was not being fished: the cell stays as typed, with why.
  const refused = await edit({ do: "set", row, column: "stint", text: "3" })
  expect(wrong(refused.sheet)).toEqual([
    "At 7:30, when this came, that stint was not being fished. Mend the time first.",
  ])
  const mended = await edit(
    { do: "set", row, column: "at", text: "" },
    { do: "set", row, column: "stint", text: "3" },
  )
  expect(wrong(mended.sheet)).toEqual([])
  expect(await tape()).toBe("620 md tw.m rd22r\n705 pt.l\n750-830 sb ck rd24")
})

test("each wrong cell gets its sentence, is kept as typed, and outlives edits elsewhere", async () => {
  const { call, day, edit, list, tape } = await dayWithFish()
  const [missed, fish] = (await list()).rows
  const { sheet } = await edit(
    { do: "set", row: missed?.id ?? "", column: "length", text: "20" },
    { do: "set", row: fish?.id ?? "", column: "fate", text: "lost" },
    { do: "set", row: fish?.id ?? "", column: "species", text: "zz" },
    { do: "set", row: fish?.id ?? "", column: "weight", text: "heavy" },
    { do: "set", row: fish?.id ?? "", column: "at", text: "1200" },
    { do: "set", row: fish?.id ?? "", column: "took", text: "x" },
    { do: "set", row: fish?.id ?? "", column: "kept", text: "maybe" },
    { do: "set", row: fish?.id ?? "", column: "stint", text: "9" },
  )
  expect(wrong(sheet)).toEqual([
    'Only a landed fish has a length; this one is "missed".',
    "No stint of the day was being fished at 1200.",
    "There is no stint 9: the day has 3.",
    "Only a landed fish has a length or a weight, or was kept or released: empty those cells first.",
    '"zz" is no code of yours. Wanted here: a fish.',
    expect.stringMatching(/^Not a number: heavy/i),
    expect.stringMatching(/^Took on: "x" is none of them/),
    expect.stringMatching(/^Kept: "maybe" is none of them/),
  ])
  const was = await tape()
  expect(was).toBe("620 md tw.m rd24,22r\n705 pt.l\n750-830 sb ck")
  // Another line of the same day is typed on the tape: what could not be read stays at its fish.
  await call("day.save", { trip: day, was, text: `${was}.g` })
  const after = await list()
  expect(texts(after, "species", "weight")[1]).toEqual(["zz", "heavy"])
  await edit({ do: "set", row: fish?.id ?? "", column: "species", text: "st" })
  expect(texts(await list(), "species")[1]).toEqual(["st"])
  // With its fish removed there is nothing left of them.
  const { sheet: left } = await edit({ do: "remove", rows: [fish?.id ?? "", missed?.id ?? ""] })
  expect(wrong(left)).toEqual([])
})

test("a fate that cannot be read leaves a new strike unknown, and no length is taken for a fish that was not landed", async () => {
  const { edit, list, tape } = await dayWithFish()
  await edit({ do: "add", cells: { at: "800", fate: "qq", length: "20" } })
  expect(texts(await list(), "fate", "length").at(-1)).toEqual(["qq", "20"])
  expect(await tape()).toContain("ck.s@800")
})

test("blocks are pasted over rows and below them, filled down, and undone by their words", async () => {
  const { call, day, edit, list, tape } = await dayWithFish()
  const was = await tape()
  const rows = (await list()).rows.map(({ id }) => id)
  await edit({
    do: "paste",
    row: rows[3] ?? "",
    column: "fate",
    block: [
      ["landed", "fl", "14"],
      ["landed", "st", "17.5", "2.2lb", "fall", "", "kept"],
    ],
  })
  expect(await tape()).toBe("620 md tw.m rd24,22r\n705 pt fl14 st17.5kw2.2:f\n750-830 sb ck")
  await edit({ do: "fill", rows: [rows[1] ?? "", rows[2] ?? ""], column: "length" })
  expect(texts(await list(), "length")[2]).toEqual(["24"])
  expect(await call("history.undo_last", {})).toMatchObject({ said: "1 cell of strikes changed" })
  expect(await call("history.undo_last", {})).toMatchObject({ said: "1 strike pasted" })
  expect(await tape()).toBe(was)
  expect((await call("fish.cells", { trip: day })).rows.map(({ id }) => id)).toEqual(rows)
})

test("without a stint there is no place for a fish, and the list says so", async () => {
  const { call, trip } = dayBook()
  const { told, act } = await call("fish.edit", {
    trip: trip(),
    edits: [{ do: "add", cells: { species: "rd" } }],
  })
  expect(act).toBeNull()
  expect(told).toEqual(["There is no stint yet that a fish could belong to: type the day's stints first."])
})

test("acts sent together are undone one by one, a row made by one being changed by the next", async () => {
  const { call, day, tape } = await dayWithFish()
  const was = await tape()
  const { added } = await call("fish.edit", {
    trip: day,
    edits: [{ do: "add", as: "new 1", cells: { at: "800" } }],
    further: [
      [{ do: "set", row: "new 1", column: "species", text: "rd" }],
      [{ do: "set", row: "new 1", column: "length", text: "19" }],
    ],
  })
  expect(added.length).toBe(1)
  const seen: string[] = [await tape()]
  for (const _ of [1, 2, 3]) {
    await call("history.undo_last", {})
    seen.push(await tape())
  }
  expect(seen).toEqual([
    was.replace("sb ck", "sb ck rd19@800"),
    was.replace("sb ck", "sb ck rd?@800"),
    was.replace("sb ck", "sb ck fish?@800"),
    was,
  ])
})

import fc from "fast-check"
import { expect, test } from "vitest"
import { blockIn, blockText } from "../../../renderer/parts/grid/block.ts"
import { blockOf, cursorAt, inBlock, moved, movedByKey, tabbed } from "../../../renderer/parts/grid/cursor.ts"
import { codesFor } from "../../../renderer/screens/day/choices.ts"
import type { Coded } from "../../../shared/codes.ts"

const size = { rows: 5, columns: 4 }
const key = (name: string, held: { shiftKey?: boolean; ctrlKey?: boolean } = {}) => ({
  key: name,
  shiftKey: false,
  ctrlKey: false,
  metaKey: false,
  ...held,
})

// The keys are those of the grid pattern, ARIA Authoring Practices Guide (W3C), "Keyboard interaction for data grids".
test("arrows move one cell and stop at the edges", () => {
  expect(movedByKey(cursorAt(1, 1), key("ArrowRight"), size, 10)).toEqual(cursorAt(1, 2))
  expect(movedByKey(cursorAt(0, 0), key("ArrowUp"), size, 10)).toEqual(cursorAt(0, 0))
  expect(movedByKey(cursorAt(4, 3), key("ArrowDown"), size, 10)).toEqual(cursorAt(4, 3))
  expect(movedByKey(cursorAt(2, 2), key("Home"), size, 10)).toEqual(cursorAt(2, 0))
  expect(movedByKey(cursorAt(2, 2), key("End", { ctrlKey: true }), size, 10)).toEqual(cursorAt(4, 3))
  expect(movedByKey(cursorAt(0, 2), key("PageDown"), size, 3)).toEqual(cursorAt(3, 2))
  expect(movedByKey(cursorAt(0, 2), key("a"), size, 3)).toBeNull()
})

test("Shift draws a block, and a plain move forgets it", () => {
  const block = movedByKey(cursorAt(1, 1), key("ArrowDown", { shiftKey: true }), size, 10)
  expect(block).toEqual({ at: { row: 2, column: 1 }, from: { row: 1, column: 1 } })
  const wider = moved(block ?? cursorAt(0, 0), 0, -1, size, true)
  expect(blockOf(wider)).toEqual({ rows: [1, 2], columns: [0, 1] })
  expect([inBlock(wider, 1, 1), inBlock(wider, 3, 1)]).toEqual([true, false])
  expect(moved(wider, 1, 0, size)).toEqual(cursorAt(3, 0))
})

test("Tab goes through every cell once and leaves at the end", () => {
  let at: ReturnType<typeof tabbed> = cursorAt(0, 0)
  const seen = new Set<string>()
  while (at !== null) {
    seen.add(JSON.stringify(at.at))
    at = tabbed(at, false, size)
  }
  expect(seen.size).toBe(size.rows * size.columns)
  expect(tabbed(cursorAt(1, 0), true, size)).toEqual(cursorAt(0, 3))
})

test("a block passes to a spreadsheet's text and back", () => {
  const cell = fc.string({ unit: fc.constantFrom("a", "1", '"', "\t", "\n", ",", " ") })
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 4 }),
      fc.integer({ min: 1, max: 4 }),
      fc.gen(),
      (rows, columns, g) => {
        const block = Array.from({ length: rows }, () => Array.from({ length: columns }, () => g(() => cell)))
        // A single empty cell is an empty text, and its line end none.
        fc.pre(!(block.at(-1)?.length === 1 && block.at(-1)?.[0] === "" && rows > 1))
        expect(blockIn(blockText(block))).toEqual(block)
      },
    ),
  )
})

test("text of a spreadsheet has its last line end taken off", () => {
  expect(blockIn("640\tmd\r\n705\tsb\r\n")).toEqual([
    ["640", "md"],
    ["705", "sb"],
  ])
})

const coded = (kind: Coded["kind"], code: string | null, name: string, retired = false): Coded => ({
  kind,
  code,
  name,
  retired,
  id: name,
  mark: null,
})
const all = [
  coded("spot", "md", "Mill Drain"),
  coded("spot", "mr", "Marsh Rake"),
  coded("spot", "he", "Heron Edge"),
  coded("spot", "od", "Old Mill", true),
  coded("presentation", "mm", "mullet walker"),
]

test("choices begin with the code, then with a word of the name; retired ones are not offered", () => {
  const texts = (typed: string) => codesFor(typed, "spot", all).map(({ text }) => text)
  expect(texts("m")).toEqual(["md", "mr"])
  expect(texts("her")).toEqual(["he"])
  expect(texts("dra")).toEqual(["md"])
  expect(texts("pt/2x3")).toEqual([])
  expect(codesFor("mu", "presentation", all)).toEqual([{ text: "mm", said: "mullet walker" }])
})

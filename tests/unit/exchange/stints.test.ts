import { expect, test } from "vitest"
import { joinRows } from "../../../core/exchange/stints.ts"
import { rowOf } from "./rowOf.ts"

const nothing = { row: () => null, stint: () => null }
const landed = (species: string | null, n: number) => [{ species, strikes: null, hook_ups: null, landed: n }]

test("rows that differ only in species and counts are one stint, its effort once", () => {
  const { stints, conflicts } = joinRows(
    [
      rowOf({ line: 2, stint_hash: "same", counts: landed("red drum", 2) }),
      rowOf({ line: 3, stint_hash: "same", counts: landed("seatrout", 1) }),
    ],
    nothing,
    "skip",
  )
  expect(stints).toHaveLength(1)
  expect(stints[0]?.counts.map(({ species, landed: n }) => [species, n])).toEqual([
    ["red drum", 2],
    ["seatrout", 1],
  ])
  expect(conflicts).toEqual([])
})

test("another count for the same species is shown, and neither merged nor added", () => {
  const { stints, conflicts } = joinRows(
    [
      rowOf({ line: 2, stint_hash: "same", counts: landed("Red drum", 2) }),
      rowOf({ line: 3, stint_hash: "same", counts: landed("red drum", 5) }),
    ],
    nothing,
    "skip",
  )
  expect(stints.map((stint) => stint.rows.length)).toEqual([1])
  expect(conflicts).toEqual([{ file: "stints.csv", line: 3, with_line: 2, column: "landed", values: [2, 5] }])
})

test("rows that nothing names may agree by chance: they stay stints of their own, and that is said", () => {
  const rows = [
    rowOf({ line: 2, stint_hash: "same", counts: landed(null, 5) }),
    rowOf({ line: 3, stint_hash: "same", counts: landed(null, 0) }),
  ]
  const apart = joinRows(rows, nothing, "skip")
  expect(apart.stints.map(({ row }) => row.line)).toEqual([2, 3])
  expect(apart.alike).toEqual([3])
  const named = joinRows(
    rows.map((row) => ({ ...row, notes: "early bite" })),
    nothing,
    "skip",
  )
  expect(named.conflicts.map(({ line, values }) => [line, values])).toEqual([[3, [5, 0]]])
})

test("the same row again is already there, in this file and from an earlier import", () => {
  const rows = [rowOf({ line: 2, hash: "a" }), rowOf({ line: 3, hash: "a" }), rowOf({ line: 4, hash: "b" })]
  const known = { row: (hash: string) => (hash === "b" ? 17 : null), stint: () => null }
  const { stints, already_there } = joinRows(rows, known, "skip")
  expect(stints.map(({ row }) => row.line)).toEqual([2])
  expect(already_there.map(({ line, of_line }) => [line, of_line])).toEqual([
    [3, 2],
    [4, null],
  ])
})

test("with repeats separate, equal rows are stints of their own, and a second import still adds nothing", () => {
  const rows = [rowOf({ hash: "a", stint_hash: "s" }), rowOf({ hash: "a", stint_hash: "s" })]
  const first = joinRows(rows, nothing, "separate")
  expect(first.stints).toHaveLength(2)
  const hashes = new Set(first.stints.flatMap((stint) => stint.rows.map((row) => row.hash)))
  const again = joinRows(rows, { ...nothing, row: (hash) => (hashes.has(hash) ? 1 : null) }, "separate")
  expect(again.stints).toEqual([])
})

import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { dayBook } from "./dayBook.ts"

const tape = (name: string): string =>
  readFileSync(join(import.meta.dirname, `../../data/days/${name}.txt`), "utf8").trimEnd()

test("a tape is kept as rows, prints again, and keeps the ids of what did not change", async () => {
  const { call, trip, book } = dayBook()
  const id = trip()
  const text = tape("even")
  const saved = await call("day.save", { trip: id, was: "", text })
  expect(saved.said).toBe("10 stints typed and 3 readings noted")
  expect(saved.day.stints.length).toBe(10)
  expect(saved.totals.landed).toBe(14)
  const ids = saved.day.stints.map((stint) => stint.id)
  const again = await call("day.save", { trip: id, was: saved.tape, text: saved.tape })
  expect(again.act).toBeNull()
  const changed = await call("day.save", {
    trip: id,
    was: saved.tape,
    text: saved.tape.replace("sp.m", "sp.mm"),
  })
  expect(changed.said).toBe("1 stint changed")
  expect(changed.day.stints.map((stint) => stint.id)).toEqual(ids)
  expect(book.db.prepare("SELECT count(*) FROM strike WHERE deleted_at IS NULL").pluck().get()).toBe(24)
})

test("what cannot be read is kept as typed until it is fixed", async () => {
  const { call, trip } = dayBook()
  const id = trip()
  const saved = await call("day.save", { trip: id, was: "", text: "620 md tw.m\n705 ptt\n730 sp\n800x" })
  expect(saved.day.stints.map(({ start_at, end_at }) => ((end_at ?? 0) - (start_at ?? 0)) / 60000)).toEqual([
    45, 30,
  ])
  expect(saved.day.unread.map(({ text, position }) => [text, position])).toEqual([["705 ptt", 1]])
  expect(saved.tape.split("\n")[1]).toBe("705 ptt")
  const fixed = await call("day.save", { trip: id, was: saved.tape, text: saved.tape.replace("ptt", "pt") })
  expect(fixed.day.unread).toEqual([])
  expect(fixed.day.stints.length).toBe(3)
})

test("a stint changed elsewhere is kept beside one's own change, and told where both changed it", async () => {
  const { call, trip } = dayBook()
  const id = trip()
  const { tape: was } = await call("day.save", { trip: id, was: "", text: "620 md tw\n705 pt\n730 sp\n800x" })
  await call("day.save", { trip: id, was, text: was.replace("tw", "tw.m") })
  const mine = await call("day.save", { trip: id, was, text: was.replace("sp", "sp.l") })
  expect(mine.merged).toEqual(["1 stint changed elsewhere meanwhile was kept."])
  expect(mine.day.stints.map(({ strikes }) => strikes.map(({ fate }) => fate))).toEqual([
    ["missed"],
    [],
    ["lost"],
  ])
  await expect(call("day.save", { trip: id, was, text: was.replace("tw", "tw.b") })).rejects.toThrow(
    "The stint of 6:20, suspending minnow natural, was changed here and elsewhere meanwhile.",
  )
})

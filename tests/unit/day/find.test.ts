import { join } from "node:path"
import { expect, test } from "vitest"
import { newSampleBook, usualSample } from "../../../core/service/sample.ts"
import { readSearch } from "../../../core/day/findWords.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { dayBook } from "./dayBook.ts"

test("trips are found by words and by conditions of one and the same stint", async () => {
  const { call, trip } = dayBook()
  const keep = async (date: string, text: string, notes: string | null = null) => {
    const id = trip({ date, notes, status: "closed" })
    await call("day.save", { trip: id, was: "", text })
    return id
  }
  // on that coast the sun rises at about 6:30 in May: 5:00 is night or first light, 9:00 day
  const dawnBlank = await keep("2026-05-15", "500 md wk.m\n545 pt\n900x")
  const dawnFish = await keep("2026-05-16", "500 md wk rd24\n545 pt\n900x")
  const dayBlank = await keep("2026-05-17", "500 md pt\n900 wk\n1000x", "Swell at the inlet")
  await call("conditions.settled", {})
  const find = async (text: string) => call("trips.find", { text })
  expect(await find("topwater before sunrise, blank")).toEqual({
    trips: [dawnBlank],
    said: "lure class topwater walker, night or first light before noon, without a fish",
  })
  expect((await find("topwater before sunrise")).trips).toEqual([dawnFish, dawnBlank])
  expect((await find("topwater")).trips).toEqual([dayBlank, dawnFish, dawnBlank])
  expect((await find("red drum")).trips).toEqual([dawnFish])
  expect((await find("swell")).trips).toEqual([dayBlank])
  expect((await find("swell with a fish")).trips).toEqual([])
  expect((await find("may 2026")).trips.length).toBe(3)
  expect((await find("100%_!")).trips).toEqual([])
  expect(await find("")).toMatchObject({ said: "every trip" })
})

test("conditions agree with the facts of the whole sample", async () => {
  const { book } = await newSampleBook(join(temporaryFolder(), "sample.stintbook"), usualSample)
  const { call } = dayBook(book, false)
  const { trips } = await call("trips.find", { text: "spoon stained fall" })
  const expected = book.db
    .prepare(
      `SELECT DISTINCT trip_id FROM stint_fact
       WHERE lure_class = 'spoon' AND visibility = 'stained' AND month IN (9, 10, 11) AND status = 'closed'`,
    )
    .pluck()
    .all()
  expect(trips.length).toBeGreaterThan(0)
  expect([...trips].toSorted()).toEqual([...expected].map(String).toSorted())
  book.close()
})

test("the longest phrase wins, and words that mean nothing alone are left out", () => {
  const vocabulary = [
    { factor: "lure_class" as const, levels: ["topwater walker", "spoon"] },
    { factor: "light" as const, levels: ["night", "first light", "day", "last light"] },
  ]
  expect(readSearch("trips with a spoon at first light", vocabulary)).toEqual({
    wish: {
      stint: [
        { anyOf: [{ factor: "lure_class", levels: ["spoon"] }] },
        { anyOf: [{ factor: "light", levels: ["first light"] }] },
      ],
      species: [],
      hours: null,
      blank: null,
      words: [],
    },
    said: "lure class spoon, light first light",
  })
})

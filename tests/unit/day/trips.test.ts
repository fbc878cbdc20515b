import { expect, test } from "vitest"
import { readTripLine } from "../../../core/day/tripLine.ts"
import { codedRows } from "../../../core/store/read/codes.ts"
import { namesOf } from "../../../core/tape/names.ts"
import { dayBook } from "./dayBook.ts"

/** 2026-05-16 at 2 in the morning in New York, a Saturday; in UTC it is 6 o'clock. */
const night = Date.UTC(2026, 4, 16, 6)

test("a trip is opened in one line, by the trip's own clock, and what is not clear is pointed at", () => {
  const { book, id } = dayBook()
  const context = {
    names: namesOf(codedRows(book.db)),
    now: night,
    home_zone: "America/New_York",
    zoneOfSpot: () => null,
  }
  const read = (line: string, now = night) => readTripLine(line, { ...context, now })
  expect(read("yesterday 620 md nel tob rd")).toEqual({
    date: "2026-05-15",
    zone: "America/New_York",
    start_at: Date.UTC(2026, 4, 15, 10, 20),
    spot: id("md"),
    anglers: [id("nel"), id("tob")],
    target: id("rd"),
    said: "Friday 2026-05-15, yesterday, from 6:20, at Mill Drain, Nell and Tobin, after red drum, clocks of America/New_York",
    unclear: null,
  })
  // four hours before, it was still the day before where the trip is
  expect(read("today", night - 4 * 3_600_000).date).toBe("2026-05-15")
  expect(read("thu").date).toBe("2026-05-14")
  expect(read("saturday md").date).toBe("2026-05-16")
  expect(read("last saturday md")).toMatchObject({ date: "2026-05-09", spot: id("md"), unclear: null })
  expect(read("last thu").date).toBe("2026-05-14")
  expect(read("nov 21").unclear?.sentence).toBe(
    '"nov" is no code of yours. Wanted here: a spot or an angler or a fish. A day is yesterday, friday, -7 (days ago) or a date, 2026-11-21.',
  )
  expect(read("2026-02-30").unclear?.sentence).toBe("There is no 2026-02-30 in the calendar.")
  expect(read("today mdd")).toMatchObject({
    date: "2026-05-16",
    unclear: {
      from: 6,
      to: 9,
      sentence: '"mdd" is no code of yours. Wanted here: a spot or an angler or a fish.',
    },
  })
  expect(read("md sb").unclear?.sentence).toBe("Another spot was said before: Mill Drain.")
})

test("a new trip has its spot on the tape, and counts what its first angler counted last", async () => {
  const { call } = dayBook()
  const { trip, said } = await call("trips.open", { line: "2026-05-15 620 md tob" })
  expect(said).toBe("trip of 2026-05-15 opened")
  expect((await call("day.read", { trip })).tape).toBe("md")
  const saved = await call("day.save", { trip, was: "md", text: "md\n620 tw.m\n705x" })
  expect(saved.tape).toBe("620-705 md tw.m")
  await call("trips.save", { trip, changes: { counted_follows: 1, counted_misses: 0 } })
  const next = await call("trips.open", { line: "2026-05-16 tob" })
  expect(await call("trips.head", { trip: next.trip })).toMatchObject({
    counted_follows: 1,
    counted_misses: 0,
  })
  const other = await call("trips.open", { line: "2026-05-16 nel" })
  expect(await call("trips.head", { trip: other.trip })).toMatchObject({
    counted_follows: 0,
    counted_misses: 1,
  })
})

test("a day alone opens the trip of that day on which nothing stands yet, not another", async () => {
  const { call } = dayBook()
  const first = await call("trips.open", { line: "2026-05-15" })
  expect(await call("trips.open", { line: "2026-05-15" })).toMatchObject({ trip: first.trip, act: null })
  expect((await call("trips.list", {})).length).toBe(1)
  await call("day.save", { trip: first.trip, was: "", text: "mddd" })
  const second = await call("trips.open", { line: "2026-05-15" })
  expect(second.trip).not.toBe(first.trip)
  expect((await call("trips.open", { line: "2026-05-15 md" })).trip).not.toBe(second.trip)
  await call("day.save", { trip: second.trip, was: "", text: "@ 640 trip cloud 40" })
  expect((await call("trips.open", { line: "2026-05-15" })).trip).not.toBe(second.trip)
})

test("the page of a trip says what of its day cannot be read yet, until it is mended", async () => {
  const { call, trip } = dayBook()
  const day = trip({ date: "2026-05-15", status: "closed" })
  const said = async () =>
    (await call("trips.page", { trip: day })).cautions.filter(({ code }) => code === "not_read")
  const { tape } = await call("day.save", { trip: day, was: "", text: "620 md tw.3m\n705x" })
  expect(await said()).toEqual([
    {
      code: "not_read",
      text: "1 thing typed of this day cannot be read yet and is in no figure. Mend it on the sheet or the tape.",
    },
  ])
  await call("day.save", { trip: day, was: tape, text: "620 md tw.m3\n705x" })
  expect(await said()).toEqual([])
})

test("a head changed elsewhere is not overwritten; anglers keep their order; a removed trip comes back", async () => {
  const { call, trip, id } = dayBook()
  const one = trip({}, ["tob"])
  await call("trips.save", { trip: one, changes: { notes: "flat calm" }, was: { notes: null } })
  await expect(
    call("trips.save", { trip: one, changes: { notes: "windy" }, was: { notes: null } }),
  ).rejects.toThrow("What the trip says of its notes was changed elsewhere meanwhile.")
  const { head } = await call("trips.save", { trip: one, changes: { anglers: [id("nel"), id("tob")] } })
  expect(head.anglers).toEqual([id("nel"), id("tob")])
  expect((await call("history.next", {})).undo?.said).toBe("anglers of the trip of 2026-05-15 changed")
  await call("trips.remove", { trip: one })
  expect(await call("trips.list", {})).toEqual([])
  const [gone] = await call("history.deleted", {})
  expect(gone).toMatchObject({ entity: "trip", name: "2026-05-15" })
  await call("history.bring_back", { entity: "trip", id: one })
  expect((await call("trips.list", {})).length).toBe(1)
})

test("unlogged trips are asked for once, when the year is over", async () => {
  const { call, trip } = dayBook()
  trip({ date: "2020-05-15", status: "closed" })
  expect(await call("seasons.list", {})).toEqual([{ year: 2020, trips: 1, unlogged: null, ask: true }])
  await call("seasons.save", { year: 2020, unlogged: null })
  expect(await call("seasons.list", {})).toEqual([{ year: 2020, trips: 1, unlogged: null, ask: false }])
  await call("seasons.save", { year: 2020, unlogged: 6 })
  expect(await call("seasons.list", {})).toEqual([{ year: 2020, trips: 1, unlogged: 6, ask: false }])
})

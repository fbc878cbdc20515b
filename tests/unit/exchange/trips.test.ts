import { expect, test } from "vitest"
import { groupTrips } from "../../../core/exchange/trips.ts"
import { at, stintOf } from "./rowOf.ts"

const stopsOf = (said: Parameters<typeof stintOf>[0][]): number[][] => {
  const [trip] = groupTrips(
    said.map((row) => stintOf({ trip: "T", ...row })),
    "row",
  )
  return (trip?.stops ?? []).map((stop) => stop.stints.map(({ row }) => row.line))
}

test("a label joins rows of one file; without one each row is a trip, or each day and angler", () => {
  const rows = [
    stintOf({ trip: "A" }),
    stintOf({ trip: "A" }),
    stintOf({ trip: "A", file: "other.csv" }),
    stintOf({ angler: "Ada" }),
    stintOf({ angler: "Ada" }),
    stintOf({ angler: "Ben" }),
  ]
  expect(groupTrips(rows, "row").map((trip) => [trip.label, trip.grouping])).toEqual([
    ["A", "said"],
    ["A", "said"],
    [null, "row"],
    [null, "row"],
    [null, "row"],
  ])
  expect(groupTrips(rows, "day").map((trip) => [trip.grouping, trip.anglers])).toEqual([
    ["said", []],
    ["said", []],
    ["day", ["Ada"]],
    ["day", ["Ben"]],
  ])
})

test("a trip's date is that of its first start, and it is as complete as its least complete row", () => {
  const [trip] = groupTrips(
    [
      stintOf({
        trip: "T",
        date: "2024-05-12",
        start_at: at(2430),
        end_at: at(2500),
        completeness: "partial",
      }),
      stintOf({ trip: "T", date: "2024-05-11", start_at: at(2200), end_at: at(2300) }),
    ],
    "row",
  )
  expect(trip).toMatchObject({
    date: "2024-05-11",
    start_at: at(2200),
    end_at: at(2500),
    completeness: "partial",
  })
})

test("a stop begins when the angler's spot changes, in the order of start, then line", () => {
  expect(
    stopsOf([
      { line: 2, spot: "drain", start_at: at(800), end_at: at(830) },
      { line: 3, spot: "Drain", start_at: at(700), end_at: at(730) },
      { line: 4, spot: "bar", start_at: at(740), end_at: at(755) },
    ]),
  ).toEqual([[3], [4], [2]])
  expect(
    stopsOf([
      { line: 2, spot: "drain" },
      { line: 3, spot: "drain" },
      { line: 4, spot: "bar" },
    ]),
  ).toEqual([[2, 3], [4]])
})

test("two anglers who overlap at a spot share a stop; one after the other they do not", () => {
  expect(
    stopsOf([
      { line: 2, angler: "Ada", spot: "drain", start_at: at(700), end_at: at(800) },
      { line: 3, angler: "Ben", spot: "drain", start_at: at(730), end_at: at(830) },
    ]),
  ).toEqual([[2, 3]])
  expect(
    stopsOf([
      { line: 2, angler: "Ada", spot: "drain", start_at: at(700), end_at: at(800) },
      { line: 3, angler: "Ben", spot: "drain", start_at: at(800), end_at: at(830) },
    ]),
  ).toEqual([[2], [3]])
})

test("a row without a spot is a stop of its own; a stop label overrules everything", () => {
  expect(stopsOf([{ line: 2 }, { line: 3 }])).toEqual([[2], [3]])
  expect(
    stopsOf([
      { line: 2, stop: "1", spot: "drain" },
      { line: 3, stop: "2", spot: "drain" },
      { line: 4, stop: "1", spot: "drain" },
    ]),
  ).toEqual([[2, 4], [3]])
})

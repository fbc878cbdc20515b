import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { dayTotals } from "../../../core/day/totals.ts"
import { printTape } from "../../../core/tape/printer.ts"
import { readTape } from "../../../core/tape/tape.ts"
import { withoutIds } from "../../../core/tape/canonical.ts"
import { tapeContext } from "./tapeContext.ts"

/** A day as an angler types it: every character is one key, the end of a line too; shifted ones count once. */
const typed = (name: string): string =>
  readFileSync(join(import.meta.dirname, `../../data/days/${name}.txt`), "utf8")

/** What a day holds, as the budgets of keys are stated for it. */
function held(text: string) {
  const { day, lines } = readTape(text.trimEnd(), tapeContext())
  expect(lines.filter(({ unclear }) => unclear !== null)).toEqual([])
  const strikes = day.stints.flatMap((stint) => stint.strikes)
  const landed = strikes.filter(({ fate }) => fate === "landed")
  const beside = new Set(["id", "at", "stop", "stint", "source"])
  const values = day.readings.flatMap((reading) =>
    Object.entries(reading).filter(([column, value]) => value !== null && !beside.has(column)),
  )
  return {
    stints: day.stints.length,
    presentations: new Set(day.stints.map(({ presentation_id }) => presentation_id)).size,
    spots: new Set(day.stops.map(({ spot_id }) => spot_id)).size,
    fish: landed.length,
    species: new Set(landed.map(({ species_id }) => species_id)).size,
    lengths: landed.filter(({ length_mm }) => length_mm !== null).length,
    readings: values.length,
    blanks: day.stints.filter(({ strikes: of }) => of.length === 0).length,
    anglers: new Set(day.stints.map(({ angler_id }) => angler_id)).size,
    misses: strikes.filter(({ fate }) => fate === "missed").length,
    hang_ups: day.stints.reduce((sum, { hang_ups }) => sum + (hang_ups ?? 0), 0),
    minutes: Math.round((dayTotals(day.stints).rod_hours ?? 0) * 60),
  }
}

test("the even day takes at most 260 keys on the tape", () => {
  const text = typed("even")
  expect(held(text)).toEqual({
    stints: 10,
    presentations: 6,
    spots: 3,
    fish: 14,
    species: 3,
    lengths: 12,
    readings: 6,
    blanks: 2,
    anglers: 1,
    misses: 7,
    hang_ups: 2,
    minutes: 400,
  })
  expect(text.length).toBeLessThanOrEqual(260)
})

test("the messy day takes at most 360 keys, and 260 with ten-minute strips", () => {
  const [lines, strips] = [typed("changes"), typed("changes-strips")]
  expect(held(lines)).toMatchObject({
    stints: 28,
    presentations: 10,
    spots: 5,
    fish: 10,
    species: 3,
    lengths: 10,
    misses: 14,
    hang_ups: 11,
    minutes: 355,
  })
  expect(held(strips)).toMatchObject({
    spots: 5,
    fish: 9,
    species: 3,
    misses: 14,
    hang_ups: 10,
    minutes: 380,
  })
  expect(lines.length).toBeLessThanOrEqual(360)
  expect(strips.length).toBeLessThanOrEqual(260)
})

test("two anglers in lanes share stops where they are together, and each has his own clock", () => {
  expect(held(typed("pair"))).toMatchObject({ stints: 7, anglers: 3, spots: 2, fish: 6 })
  const { day } = readTape(typed("pair").trimEnd(), tapeContext())
  expect(day.stops.length).toBe(3)
  const lane = (angler: string | null) =>
    day.stints
      .filter(({ angler_id }) => angler_id === angler)
      .map(({ start_at, end_at, stop }) => [((end_at ?? 0) - (start_at ?? 0)) / 60_000, stop])
  expect(lane("angler tob")).toEqual([
    [40, 0],
    [60, 0],
    [60, 2],
  ])
  expect(lane("angler nel")).toEqual([
    [50, 0],
    [50, 0],
    [60, 2],
  ])
  expect(lane(null)).toEqual([[30, 1]])
  // what everybody goes to is where each then is, until he names another place
  const after = readTape(
    "tob> 620 md tw\nnel> 620 ck\nall> 700 sb sp\ntob> 730 tw\nnel> 740 nj ck\nnel> 800 pt\ntob> 800 ck",
    tapeContext(),
  )
  expect(after.day.stints.map(({ stop }) => after.day.stops[stop]?.spot_id)).toEqual(
    ["md", "md", "sb", "sb", "nj", "nj", "sb"].map((code) => `spot ${code}`),
  )
})

test("everybody's line is a rod for each, ends what each was fishing, and ends with the next line of any one", () => {
  const rodMinutes = (text: string, anglers = 2) => {
    const { day } = readTape(text, tapeContext({ anglers }))
    expect(
      withoutIds(readTape(printTape(day, tapeContext({ anglers })), tapeContext({ anglers })).day),
    ).toEqual(withoutIds(day))
    return day.stints.map(({ start_at, end_at, rods }) => [((end_at ?? 0) - (start_at ?? 0)) / 60_000, rods])
  }
  const text = "tob> 620 md tw\nnel> 630 ck\nall> 700 sb sp\ntob> 730 tw\nnel> 740 ck\n800x"
  // 40 and 30 minutes until 7:00; 30 of both together until Tobin goes on by himself
  expect(rodMinutes(text)).toEqual([
    [40, 1],
    [30, 1],
    [30, 2],
    [30, 1],
    [20, 1],
  ])
  // never more than two rods by the clock: 6:20 to 8:00, Nell from 6:30 and not from 7:30 to 7:40
  const sum = rodMinutes(text).reduce((all, [minutes = 0, rods = 0]) => all + minutes * rods, 0)
  expect(sum).toBe(2 * 100 - 10 - 10)
  expect(rodMinutes("all> 620 md tw*1\nall> +10 pt\n700x", 3)).toEqual([
    [10, 1],
    [30, 3],
  ])
  // two presentations at once share the rods; in turn each is on all of them
  expect(rodMinutes("all> 620 md ck|tw\nall> 700 ck+p4\n740x")).toEqual([
    [40, 1],
    [40, 1],
    [40, 2],
    [40, 2],
  ])
})

test.each(["even", "changes", "changes-strips", "pair"])(
  "the day of %s prints back to a tape that says the same",
  (name) => {
    const context = tapeContext()
    const { day } = readTape(typed(name).trimEnd(), context)
    expect(withoutIds(readTape(printTape(day, context), context).day)).toEqual(withoutIds(day))
  },
)

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
  const messy = { presentations: 15, spots: 4, fish: 5, species: 3, lengths: 5, anglers: 1 }
  const [lines, strips] = [typed("messy"), typed("messy-strips")]
  expect(held(lines)).toMatchObject({ ...messy, stints: 28, misses: 13, hang_ups: 12, minutes: 365 })
  expect(held(strips)).toMatchObject({ ...messy, stints: 28, misses: 13, hang_ups: 12, minutes: 280 })
  expect(lines.length).toBeLessThanOrEqual(360)
  expect(strips.length).toBeLessThanOrEqual(260)
})

test("two anglers in lanes share stops where they are together, and each has his own clock", () => {
  const text = typed("lanes")
  expect(held(text)).toMatchObject({ stints: 9, anglers: 2, spots: 2, fish: 7 })
  const { day } = readTape(text.trimEnd(), tapeContext())
  expect(day.stops.length).toBe(2)
  const lane = (angler: string) =>
    day.stints
      .filter(({ angler_id }) => angler_id === angler)
      .map(({ start_at, end_at, stop }) => [((end_at ?? 0) - (start_at ?? 0)) / 60_000, stop])
  expect(lane("angler tob")).toEqual([
    [30, 0],
    [45, 0],
    [45, 1],
    [35, 1],
  ])
  expect(lane("angler nel")).toEqual([
    [45, 0],
    [30, 0],
    [30, 1],
    [30, 1],
    [20, 1],
  ])
})

test.each(["even", "messy", "messy-strips", "lanes"])(
  "the %s day prints back to a tape that says the same",
  (name) => {
    const context = tapeContext()
    const { day } = readTape(typed(name).trimEnd(), context)
    expect(withoutIds(readTape(printTape(day, context), context).day)).toEqual(withoutIds(day))
  },
)

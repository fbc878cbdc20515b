import { join } from "node:path"
import { expect, test } from "vitest"
import { z } from "zod"
import { canonicalDay, withoutIds } from "../../../core/tape/canonical.ts"
import { namesOf } from "../../../core/tape/names.ts"
import { printTape } from "../../../core/tape/printer.ts"
import { readTape } from "../../../core/tape/tape.ts"
import { newSampleBook, usualSample } from "../../../core/service/sample.ts"
import { codedRows } from "../../../core/store/read/codes.ts"
import { storedDay } from "../../../core/store/read/day.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"

test("every day of the sample logbook prints to a tape that reads back to it, in metric and in US units", async () => {
  const { book } = await newSampleBook(join(temporaryFolder(), "sample.stintbook"), usualSample)
  const names = namesOf(codedRows(book.db))
  const trips = z.array(z.string()).parse(book.db.prepare("SELECT id FROM trip").pluck().all())
  let stints = 0
  for (const trip of trips) {
    const stored = storedDay(book.db, trip)
    if (stored === null) throw new Error(trip)
    const { head } = stored
    for (const reader of [presets.metric, presets.us]) {
      const context = {
        place: { date: head.date, zone: head.zone, start_at: head.start_at },
        names,
        reader,
        first_angler: head.anglers[0] ?? null,
        anglers: head.anglers.length,
        first_spot: null,
      }
      const tape = printTape(stored, context)
      const { day, lines } = readTape(tape, context)
      expect(
        lines.flatMap(({ text, unclear }) => (unclear === null ? [] : [[text, unclear.sentence]])),
      ).toEqual([])
      expect([tape, withoutIds(day)]).toEqual([tape, withoutIds(canonicalDay(stored))])
    }
    stints += stored.stints.length
  }
  expect(trips.length).toBeGreaterThan(100)
  expect(stints).toBeGreaterThan(900)
  book.close()
})

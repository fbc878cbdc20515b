import { join } from "node:path"
import { expect, test } from "vitest"
import { z } from "zod"
import { newSampleBook, usualSample } from "../../../core/service/sample.ts"
import { dayBook } from "../day/dayBook.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"

const Sums = z.object({ fish: z.number(), hours: z.number(), stints: z.int(), trips: z.int() })

test("what a rig came to is the ratio of sums over all its presentations, as plain SQL adds them up", async () => {
  const { book } = await newSampleBook(join(temporaryFolder(), "sample.stintbook"), usualSample)
  const { call } = dayBook(book, false)
  const { rig, lure, retrieve } = await call("pieces.list", {})
  const [most] = rig.toSorted((a, b) => b.presentations.length - a.presentations.length)
  if (most === undefined) throw new Error("no rig")
  expect(most.presentations.length).toBeGreaterThan(1)
  const result = await call("pieces.result", { what: "rig", id: most.id })
  const sum = Sums.parse(
    book.db
      .prepare(
        `SELECT total(landed) AS fish, total(rod_hours) AS hours, count(*) AS stints, count(DISTINCT trip_id) AS trips
         FROM stint_fact WHERE status = 'closed' AND completeness = 'complete' AND landed IS NOT NULL AND rod_hours IS NOT NULL
           AND presentation IN (SELECT presentation.name FROM presentation WHERE rig_id = ? AND deleted_at IS NULL)`,
      )
      .get(most.id),
  )
  expect([result?.events, result?.stints, result?.trips]).toEqual([sum.fish, sum.stints, sum.trips])
  expect(result?.rod_hours).toBeCloseTo(sum.hours, 9) // sums in another order
  const { estimate, low, high } = result?.raw ?? {}
  expect(estimate).toBeCloseTo((result?.events ?? 0) / (result?.rod_hours ?? 0), 12)
  expect([low ?? 0, high ?? 0]).toEqual([
    expect.toSatisfy((value: number) => value > 0 && value < (estimate ?? 0)),
    expect.toSatisfy((value: number) => value > (estimate ?? 0)),
  ])
  // Lures and retrieves go the same road.
  for (const [what, pieces] of [
    ["lure", lure],
    ["retrieve", retrieve],
  ] as const)
    expect((await call("pieces.result", { what, id: pieces[0]?.id ?? "" }))?.stints).toBeGreaterThan(0)
  book.close()
})

import { join } from "node:path"
import { expect, test } from "vitest"
import { z } from "zod"
import { conditionsMethod } from "../../../core/conditions/compute.ts"
import { newSampleBook } from "../../../core/service/sample.ts"
import { checkFile } from "../../../core/store/check.ts"
import { countStale } from "../../../core/store/computed.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"

const wish = { seed: 7, seasons: 3 }

test("every stint of the sample carries its conditions, and the truth names its stints by their ids", async () => {
  const { book, truth } = await newSampleBook(join(temporaryFolder(), "sample.stintbook"), wish)
  const known = (column: string) => `sum(${column} IS NOT NULL) AS ${column}`
  const columns = [
    "tide_stage",
    "tide_part",
    "tide_phase_rad",
    "tide_rate_m_h",
    "tide_range_m",
    "light",
    "moon_illum",
  ]
  const row = z
    .record(z.string(), z.int())
    .parse(
      book.db.prepare(`SELECT count(*) AS stints, ${columns.map(known).join(", ")} FROM stint_fact`).get(),
    )
  expect(row["stints"]).toBeGreaterThan(1000)
  for (const column of columns) expect(row[column]).toBe(row["stints"])
  expect(countStale(book.db, conditionsMethod)).toBe(0)
  const ids = new Set(book.db.prepare("SELECT id FROM stint").pluck().all())
  expect(truth.stints.length).toBeGreaterThan(1000)
  expect(truth.stints.every(({ stint }) => ids.has(stint))).toBe(true)
  expect(checkFile(book.db)).toEqual([])
  book.close()
})

test("a spot with a current station, or slack times of its own, knows its current's stage; others have none", async () => {
  const { book } = await newSampleBook(join(temporaryFolder(), "sample.stintbook"), wish)
  const Spots = z.array(
    z.object({ name: z.string(), told: z.int(), stints: z.int(), fits: z.int(), speeds: z.int() }),
  )
  const spots = Spots.parse(
    book.db
      .prepare(
        `SELECT spot.name, count(*) AS stints, sum(fact.current_stage IS NOT NULL) AS told,
           sum(fact.current_speed_ms IS NOT NULL) AS speeds,
           max(computed.current_station IS NOT NULL OR spot.slack_after_high_min IS NOT NULL) AS fits
         FROM stint_fact AS fact
         JOIN spot ON spot.name = fact.spot
         JOIN computed ON computed.stint_id = fact.stint_id
         GROUP BY spot.name`,
      )
      .all(),
  )
  for (const { told, stints, fits } of spots) expect(told).toBe(fits === 1 ? stints : 0)
  expect(spots.some(({ fits }) => fits === 0)).toBe(true)
  // Own slack times tell when the water turns, not how fast it runs.
  const ownSlacks = spots.find(({ name }) => name === "Split Creek")
  expect(ownSlacks?.told).toBe(ownSlacks?.stints)
  expect(ownSlacks?.speeds).toBe(0)
  book.close()
})

test("a sample never takes a logbook's place", async () => {
  const file = join(temporaryFolder(), "mine.stintbook")
  const { book } = await newSampleBook(file, { seed: 2, seasons: 1 })
  book.close()
  await expect(newSampleBook(file, { seed: 3, seasons: 1 })).rejects.toThrow(/exists already/)
})

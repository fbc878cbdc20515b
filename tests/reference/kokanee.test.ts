// Real creel interviews of a trout and kokanee lake, May to September 2014 (tests/data/kokanee-creel-2014, MIT, see
// SOURCE.md there), imported by --map alone. expected.json was computed without the product, with R 4.2.2.
//
// Facts of expected.json that are owed and checked here: rows, survey days, first and last day, total rod-hours, fish,
// fish by species, blank trips (all species, kokanee), blank days; for all species and for kokanee, by gear and by month,
// with rows as trips and with days as trips: clusters, fish, effort, rate, blank clusters and the naive exact Poisson
// interval. Not owed: person-hours, kept fish, vessel, method, shift, sky, wind and oddities (no column of ours, or not
// mapped), and the models (this version fits none). Linearised and plain jackknife intervals are other methods: ours must
// hold the rate, be wider than the naive one, and lie near them.
import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { z } from "zod"
import type { Answer as AnswerType } from "../../shared/answer.ts"
import type { Logbook } from "../../core/store/logbook.ts"
import { askKokanee, folder, importKokanee, map } from "./kokaneeBook.ts"

const Clusters = z.object({
  clusters: z.int(),
  fish: z.int(),
  effort: z.number(),
  rate: z.number(),
  blank_clusters: z.int(),
  interval_naive_poisson_exact: z.tuple([z.number(), z.number()]),
  interval_log_linearised_t: z.array(z.number().nullable()).nullable(),
})
const Both = z.object({ trip_clusters: Clusters, day_clusters: Clusters })
const Expected = z.object({
  rows: z.int(),
  survey_days: z.int(),
  first_day: z.string(),
  last_day: z.string(),
  totals: z.object({ rod_hours: z.number(), fish: z.int(), fish_by_species: z.record(z.string(), z.int()) }),
  blank_trips_all_species: z.int(),
  blank_trips_kokanee: z.int(),
  blank_days_all_species: z.int(),
  rate_all: Both,
  rate_kokanee: Both,
  by_gear_all_species: z.record(z.string(), Both),
  by_gear_kokanee: z.record(z.string(), Both),
  by_month_all_species: z.record(z.string(), Both),
})
const expected = Expected.parse(JSON.parse(readFileSync(join(folder, "expected.json"), "utf8")))

const ask = (book: Logbook, by: string, species: string[]): Promise<AnswerType> =>
  askKokanee(book, { outcome: "landed_rate", by, species })

const tally = (book: Logbook, sql: string): unknown => book.db.prepare(sql).pluck().get()

test("counts, effort, species and blanks of the real table are those of the file", async () => {
  const book = await importKokanee("row")
  expect(tally(book, "SELECT count(*) FROM stint_fact")).toBe(expected.rows)
  expect(tally(book, "SELECT min(trip_date) FROM stint_fact")).toBe(expected.first_day)
  expect(tally(book, "SELECT max(trip_date) FROM stint_fact")).toBe(expected.last_day)
  expect(tally(book, "SELECT sum(rod_hours) FROM stint_fact")).toBeCloseTo(expected.totals.rod_hours, 9)
  expect(tally(book, "SELECT sum(landed) FROM stint_fact")).toBe(expected.totals.fish)
  expect(tally(book, "SELECT count(*) FROM stint_fact WHERE landed = 0")).toBe(
    expected.blank_trips_all_species,
  )
  expect(tally(book, "SELECT count(*) FROM stint_fact WHERE lure_class IS NULL")).toBe(1)
  const ofSpecies = (code: string, name: string) =>
    expect([
      code,
      tally(
        book,
        `SELECT count(*) FROM strike JOIN species ON species.id = species_id WHERE species.name = '${name}'`,
      ),
    ]).toEqual([code, expected.totals.fish_by_species[code]])
  for (const one of map.slice(3)) {
    const [code = "", name = ""] = one.split("=landed:")
    ofSpecies(code, name)
  }
  const withKokanee = `SELECT count(DISTINCT stint_id) FROM strike JOIN species ON species.id = species_id WHERE species.name = 'kokanee'`
  expect(expected.rows - Number(tally(book, withKokanee))).toBe(expected.blank_trips_kokanee)
  const days = await importKokanee("day")
  expect(tally(days, "SELECT count(*) FROM trip")).toBe(expected.survey_days)
  expect(
    tally(
      days,
      "SELECT count(*) FROM (SELECT trip_id FROM stint_fact GROUP BY trip_id HAVING sum(landed) = 0)",
    ),
  ).toBe(expected.blank_days_all_species)
})

/** A level of an answer against the facts of one group of rows. */
function expectLevel(level: AnswerType["levels"][number], facts: z.infer<typeof Clusters>): void {
  expect([level.trips, level.events]).toEqual([facts.clusters, facts.fish])
  expect(level.rod_hours).toBeCloseTo(facts.effort, 9) // only rounding is left
  expect(level.raw.estimate).toBeCloseTo(facts.rate, 9) // expected.json is rounded to ten digits
  const [low, high] = facts.interval_naive_poisson_exact
  expect(level.naive?.low).toBeCloseTo(low, 9)
  expect(level.naive?.high).toBeCloseTo(high, 9)
  expect(level.raw.low).toBeLessThan(low)
  expect(level.raw.high).toBeGreaterThan(high)
  const [linearLow, linearHigh] = facts.interval_log_linearised_t ?? []
  if (linearLow == null || linearHigh == null) return
  // Two published ways of the same kind: their widths on the log scale agree within a factor of 1.6 on these groups.
  const width = Math.log(Number(level.raw.high) / Number(level.raw.low))
  expect(width / Math.log(linearHigh / linearLow)).toBeGreaterThan(1 / 1.6)
  expect(width / Math.log(linearHigh / linearLow)).toBeLessThan(1.6)
}

const months = { May: "5", Jun: "6", Jul: "7", Aug: "8", Sep: "9" }

test.each([
  ["row", "trip_clusters"],
  ["day", "day_clusters"],
] as const)(
  "rates by gear and month with each %s as a trip are right, and their intervals know it",
  async (tripIs, clusters) => {
    const book = await importKokanee(tripIs)
    const all = await ask(book, "lure_class", [])
    const kokanee = await ask(book, "lure_class", ["kokanee"])
    for (const [answer, facts] of [
      [all, expected.by_gear_all_species],
      [kokanee, expected.by_gear_kokanee],
    ] as const) {
      expect(answer.levels.map(({ level }) => level)).toEqual(["Lures", "Both", "Flies", "Bait"])
      for (const level of answer.levels) {
        const known = facts[level.level]?.[clusters]
        if (known) expectLevel(level, known)
      }
      expect(answer.data.left_out).toEqual([{ reason: "factor_unknown", stints: 1 }])
    }
    const byMonth = await ask(book, "month", [])
    for (const [name, level] of Object.entries(months)) {
      const found = byMonth.levels.find((one) => one.level === level)
      const known = expected.by_month_all_species[name]?.[clusters]
      if (found === undefined || known === undefined) throw new Error(name)
      expectLevel(found, known)
    }
    expect(byMonth.data.events).toBe(expected.rate_all[clusters].fish)
    expect(all.cautions.some(({ code }) => code === "row_is_trip")).toBe(tripIs === "row")
  },
)

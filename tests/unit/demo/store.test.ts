import { expect, test } from "vitest"
import { stationsWith } from "../../../core/conditions/stations/stations.ts"
import { makeSample, type Sample } from "../../../core/demo/sample.ts"
import { skyFrom } from "../../../core/demo/sky.ts"
import { storeSample } from "../../../core/demo/store.ts"
import { checkFile } from "../../../core/store/check.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { add } from "../../../core/store/put.ts"
import { readFactors, readFacts } from "../../../core/store/readFacts.ts"
import { entities, type Entity } from "../../../shared/entities.ts"
import { factorIds } from "../../../shared/factors.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"
import { factsOfSample, type SampleFactor, stintsAround } from "./factsOfSample.ts"
import { standInSky } from "./standInSky.ts"

const sample = makeSample({ seed: 11, seasons: 3 }, standInSky)

/** A logbook with the sample and the conditions that the stand-in sky gives. */
function storedSample(): Logbook {
  const book = temporaryLogbook()
  book.change((change) => {
    const ids = storeSample(change, sample)
    for (const { stint, sky } of stintsAround(sample)) {
      const stint_id = ids.get(stint.key)
      if (sky === null || stint_id === undefined) continue
      const { light, moon_illum } = sky
      const tide_part = entities.computed.shape.tide_part.parse(sky.tide_part)
      add(change, "computed", { stint_id, method: "stand-in", light, moon_illum, tide_part })
    }
  })
  return book
}

const rowsOf: Readonly<Partial<Record<Entity, (sample: Sample) => readonly unknown[]>>> = {
  angler: (s) => s.anglers,
  spot: (s) => s.spots,
  species: (s) => s.species,
  lure_class: (s) => s.lure_classes,
  lure: (s) => s.lures,
  rig: (s) => s.rigs,
  retrieve: (s) => s.retrieves,
  presentation: (s) => s.presentations,
  trip: (s) => s.trips,
  trip_angler: (s) => s.trip_anglers,
  stop: (s) => s.stops,
  stint: (s) => s.stints,
  strike: (s) => s.strikes,
  observation: (s) => s.observations,
  setting: (s) => s.settings,
}

test("every row passes its entity's schema and the store's checks", () => {
  const book = storedSample()
  expect(checkFile(book.db)).toEqual([])
  for (const [entity, rows] of Object.entries(rowsOf)) {
    const stored = book.db.prepare(`SELECT * FROM ${entity}`).all()
    expect(stored.length, entity).toBe(rows(sample).length)
    const schema = Object.entries(entities).find(([name]) => name === entity)?.[1]
    for (const row of stored) expect(schema?.safeParse(row).error?.message).toBeUndefined()
  }
})

const factors: readonly SampleFactor[] = [
  "lure_class",
  "presentation",
  "colour",
  "head_weight_g",
  "pause_s",
  "ground",
  "spot",
  "angler",
  "rods",
  "light",
  "tide_part",
  "moon_illum",
]

test("facts made of the sample are those that the store reads", () => {
  const read = readFacts(storedSample().db, factors, 1)
  // Ids are given anew at each storing: as many as trips, all different.
  expect(new Set(read.trip_ids).size).toBe(read.trips.length)
  const made = factsOfSample(sample, factors)
  expect({ ...read, trip_ids: made.trip_ids }).toEqual(made)
})

test("factors read by themselves stand in the order of the facts", () => {
  const { db } = storedSample()
  expect(readFactors(db, factorIds)).toEqual(readFacts(db, factorIds, 1).factors)
  expect(readFactors(db, ["pause_s"])).toEqual(readFacts(db, ["pause_s"], 1).factors)
})

test("nothing planned or under way enters the facts", () => {
  const closed = sample.trips.filter(({ status }) => status === "closed")
  const ahead = sample.trips.filter(({ status }) => status !== "closed")
  expect(ahead).toHaveLength(3)
  expect(ahead.every(({ date }) => date >= "2026-01-01")).toBe(true)
  const facts = readFacts(storedSample().db, [], 1)
  expect(facts.trips).not.toContain(ahead[0]?.date)
  expect(facts.stints).toBe(sample.truth.stints.length)
  expect(facts.trips.length).toBe(closed.length)
})

test("with the product's own tides every spot has its part of the tide, and limbs as the coast has them", () => {
  const sky = skyFrom(stationsWith([]))
  for (const spot of sample.spots) {
    // One lunar month from 1 April 2024, in steps of ten minutes.
    const heights = Array.from(
      { length: 29.5 * 144 },
      (_, i) => sky(Date.UTC(2024, 3, 1) + i * 600_000, spot).tide_height_m ?? Number.NaN,
    )
    const turns = heights.filter(
      (height, i) =>
        i > 0 &&
        i < heights.length - 1 &&
        (height - (heights[i - 1] ?? 0)) * ((heights[i + 1] ?? 0) - height) <= 0 &&
        height !== heights[i - 1],
    )
    const limbs = turns.slice(1).map((height, i) => Math.abs(height - (turns[i] ?? 0)))
    // About 1.7 to 2.9 m; neaps and springs of one month lie beyond, up the river at Darien most.
    const sorted = limbs.toSorted((a, b) => a - b)
    const part = (share: number) => sorted[Math.floor(share * sorted.length)]
    expect(part(0.5), spot.name).toBeGreaterThan(1.7)
    expect(part(0.5), spot.name).toBeLessThan(2.9)
    expect(part(0.05), spot.name).toBeGreaterThan(1.3)
    expect(part(0.95), spot.name).toBeLessThan(3.2)
  }
})

import fc from "fast-check"
import { expect, test } from "vitest"
import { z } from "zod"
import { carryRules } from "../../../core/conditions/carry.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { add, removeById } from "../../../core/store/put.ts"
import { factorsAt } from "../../../shared/factors.ts"
import { temporaryLogbook } from "./temporaryLogbook.ts"

const minute = 60_000
const noon = Date.UTC(2024, 4, 11, 12)
const at = (minutes: number | null): number | null => (minutes === null ? null : noon + minutes * minute)

/** A made-up trip; times are minutes from noon, stops and stints are named by their number. */
type Stint = {
  readonly stop: number
  readonly start: number | null
  readonly length: number | null
  readonly deleted: boolean
}
const sources = ["seen", "instrument", "imported"] as const
type Reading = {
  readonly source: (typeof sources)[number]
  readonly at: number | null
  readonly stop: number | null
  readonly stint: number | null
  readonly deleted: boolean
  readonly water_temp_c: number | null
  readonly water_depth_m: number | null
  readonly visibility: "clear" | "muddy" | null
}
type Trip = { readonly stints: readonly Stint[]; readonly readings: readonly Reading[] }

/** When each stop was visited; nobody said when the last one was. */
const visits = [{ start: -120, end: -10 }, { start: 10, end: 120 }, null] as const
const compared = ["water_temp_c", "water_depth_m", "visibility"] as const

const sometimes = fc.constantFrom(false, false, false, false, false, true)
const trips = fc
  .array(
    fc.record<Stint>({
      stop: fc.nat(2),
      start: fc.option(fc.integer({ min: -150, max: 150 }), { freq: 6 }),
      length: fc.option(fc.integer({ min: 1, max: 60 }), { freq: 3 }),
      deleted: sometimes,
    }),
    { minLength: 1, maxLength: 5 },
  )
  .chain((stints) =>
    fc.record<Trip>({
      stints: fc.constant(stints),
      readings: fc.array(
        fc.record<Reading>({
          source: fc.constantFrom(...sources),
          at: fc.option(fc.integer({ min: -300, max: 300 }), { freq: 4 }),
          stop: fc.option(fc.nat(2), { freq: 1 }),
          stint: fc.oneof(fc.constant(null), fc.constant(null), fc.nat(stints.length - 1)),
          deleted: sometimes,
          water_temp_c: fc.option(fc.integer({ min: 5, max: 30 })),
          water_depth_m: fc.option(fc.integer({ min: 0, max: 9 })),
          visibility: fc.option(fc.constantFrom("clear", "muddy")),
        }),
        { maxLength: 10 },
      ),
    }),
  )

/** Stores a trip and returns the ids of its stints. */
function store(book: Logbook, trip: Trip): string[] {
  return book.change((change) => {
    const tripId = add(change, "trip", {
      counted_misses: 0,
      counted_losses: 0,
      counted_follows: 0,
      counted_hang_ups: 0,
      counted_landed: 1,
      date: "2024-05-11",
      zone: "UTC",
      completeness: "complete",
      status: "closed",
      grouping: "said",
    })
    const stops = visits.map((visit, ordinal) =>
      add(change, "stop", {
        trip_id: tripId,
        ordinal,
        start_at: at(visit?.start ?? null),
        end_at: at(visit?.end ?? null),
      }),
    )
    const stints = trip.stints.map(({ stop, start, length }, ordinal) =>
      add(change, "stint", {
        stop_id: stops[stop] ?? "",
        ordinal,
        rods: 1,
        start_at: at(start),
        end_at: at(start === null || length === null ? null : start + length),
      }),
    )
    for (const reading of trip.readings) {
      const id = add(change, "observation", {
        trip_id: tripId,
        stop_id: reading.stop === null ? null : stops[reading.stop],
        stint_id: reading.stint === null ? null : stints[reading.stint],
        at: at(reading.at),
        source: reading.source,
        water_temp_c: reading.water_temp_c,
        water_depth_m: reading.water_depth_m,
        visibility: reading.visibility,
      })
      if (reading.deleted) removeById(change, "observation", id)
    }
    for (const [i, { deleted }] of trip.stints.entries())
      if (deleted) removeById(change, "stint", stints[i] ?? "")
    return stints
  })
}

/** What a stint should get, by ranking every reading; the rules of `core/conditions/carry.ts` told another way. */
function expected(trip: Trip, number: number, column: (typeof compared)[number]) {
  const { window, how, where } = carryRules.find(({ id }) => id === column)?.rule ?? { window: 0 }
  const stint = trip.stints[number]
  if (stint === undefined) throw new Error("no such stint")
  const end = stint.start === null || stint.length === null ? null : stint.start + stint.length
  const ranked = trip.readings.flatMap((reading) => {
    const value = reading[column]
    const of = reading.stint === null ? undefined : trip.stints[reading.stint]
    const own = reading.stint === number
    const station = reading.source === "imported"
    if (value === null || reading.deleted || of?.deleted === true) return []
    if (station && reading.stint !== null && !own) return []
    const when = reading.at ?? of?.start ?? null
    const place = reading.stop ?? of?.stop ?? null
    const visit = visits[stint.stop] ?? null
    const here =
      place === null
        ? !station && when !== null && visit !== null && visit.start <= when && when <= visit.end
          ? "here"
          : "anywhere"
        : place === stint.stop
          ? "here"
          : "elsewhere"
    const rest = [Number(station), -(when ?? -Infinity), sources.indexOf(reading.source), value]
    const place3 = ["here", "anywhere", "elsewhere"].indexOf(here)
    if (own) return [{ value, reading, minutes: 0, middle: 0, rank: [0, -(when ?? -Infinity), ...rest] }]
    if (when === null) {
      if (here === "elsewhere") return []
      return [{ value, reading, minutes: 0, middle: 0, rank: [here === "here" ? 2 : 4, ...rest] }]
    }
    if (stint.start === null) return []
    const [from, to] = end === null ? [stint.start - 30, stint.start + 30] : [stint.start, end]
    const during = from <= when && when <= to
    const minutes = during ? 0 : when < from ? when - stint.start : when - (end ?? stint.start)
    const middle = when - (stint.start + (end ?? stint.start)) / 2
    if (Math.abs(minutes) > window) return []
    if (where === "stop" && here !== "here" && !(here === "anywhere" && during)) return []
    const rank = [during ? 1 : 3, Math.abs(minutes), place3, Number(station), Math.abs(middle), ...rest]
    return [{ value, reading, minutes, middle, rank }]
  })
  const sorted = ranked.toSorted((a, b) => {
    const i = a.rank.findIndex((part, at) => part !== b.rank[at])
    return i < 0 ? 0 : (a.rank[i] ?? "") < (b.rank[i] ?? "") ? -1 : 1
  })
  const [best] = sorted
  if (best === undefined) return { value: null, source: null }
  const { value, reading, minutes, middle } = best
  if (minutes === 0) return { value, source: reading.source }
  const other = sorted.find(
    (one) =>
      one.rank[0] === 3 &&
      one.minutes * minutes < 0 &&
      (one.reading.source === "imported") === (reading.source === "imported"),
  )
  if (how === "interpolated" && other !== undefined && typeof value === "number") {
    const share = Math.abs(middle) / (Math.abs(middle) + Math.abs(other.middle))
    const sides = [minutes, other.minutes].map(Math.abs)
    const [before, after] = minutes < 0 ? sides : sides.toReversed()
    return {
      value: value + (Number(other.value) - value) * share,
      source: `between readings ${before} min before and ${after} min after`,
    }
  }
  const side = minutes < 0 ? "before" : "after"
  return { value, source: `carried from ${Math.abs(minutes)} min ${side}` }
}

const rounded = (value: number | string | null) =>
  typeof value === "number" ? Math.round(value * 1e9) / 1e9 : value

const Fact = z.record(z.string(), z.union([z.string(), z.number(), z.null()]))

test("stint_fact carries readings to stints as ranking all of them by hand does", () => {
  const told = new Map<string, number>()
  fc.assert(
    fc.property(trips, (trip) => {
      const book = temporaryLogbook()
      const ids = store(book, trip)
      const read = book.db.prepare("SELECT * FROM stint_fact WHERE stint_id = ?")
      for (const [number, id] of ids.entries()) {
        const row = read.get(id)
        expect(row === undefined).toBe(trip.stints[number]?.deleted)
        if (row === undefined) continue
        const fact = Fact.parse(row)
        for (const column of compared) {
          const { value, source } = expected(trip, number, column)
          expect([column, fact[`${column}_source`]]).toEqual([column, source])
          // Numbers are below 30: 1e-9 leaves room for rounding only.
          expect([column, rounded(fact[column] ?? null)]).toEqual([column, rounded(value)])
          const kind = source === null ? "unknown" : (/^(between|carried)/.exec(source)?.[0] ?? "as it is")
          told.set(kind, (told.get(kind) ?? 0) + 1)
        }
      }
    }),
    { numRuns: 250, seed: 5 },
  )
  for (const kind of ["unknown", "as it is", "carried", "between"]) expect(told.get(kind)).toBeGreaterThan(20)
})

test("every observed factor is carried, its words and numbers untouched", () => {
  const values = {
    water_temp_c: 21.5,
    visibility: "stained",
    water_colour: "tea",
    secchi_cm: 40,
    salinity_psu: 18.5,
    water_depth_m: 2.5,
    water_movement: "easy",
    bank_water: "half way up",
    wind_speed_ms: 4,
    wind_dir_deg: 45,
    cloud_okta: 3,
    barometer_hpa: 1018,
    barometer_3h_hpa: -1.2,
    bait_seen: "mullet",
  } as const
  expect(Object.keys(values)).toEqual(factorsAt("observation"))
  const book = temporaryLogbook()
  const blank = { water_temp_c: null, water_depth_m: null, visibility: null, deleted: false }
  const [stint = ""] = store(book, {
    stints: [{ stop: 0, start: -60, length: 30, deleted: false }],
    readings: [{ ...blank, source: "seen", at: null, stop: null, stint: null }],
  })
  book.change((change) => {
    const Ids = z.object({ trip_id: z.string(), stop_id: z.string() })
    const { trip_id, stop_id } = Ids.parse(
      book.db.prepare("SELECT trip_id, stop_id FROM stint_fact WHERE stint_id = ?").get(stint),
    )
    add(change, "observation", { trip_id, stop_id, at: at(-72), source: "instrument", ...values })
  })
  const fact = Fact.parse(book.db.prepare("SELECT * FROM stint_fact").get())
  expect(fact).toMatchObject(values)
  for (const id of factorsAt("observation"))
    expect([id, fact[`${id}_source`]]).toEqual([id, "carried from 12 min before"])
})

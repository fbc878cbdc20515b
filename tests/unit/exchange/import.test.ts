import fc from "fast-check"
import { expect, test } from "vitest"
import { conditionsMethod } from "../../../core/conditions/compute.ts"
import { bringUpToDate } from "../../../core/service/conditions.ts"
import { checkFile } from "../../../core/store/check.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"
import { factRows, importTables } from "./importing.ts"

test("counts come back as they were given, and what was not given stays unknown", async () => {
  const count = fc.nat(4)
  const row = fc
    .tuple(count, count, count, fc.boolean(), fc.boolean(), fc.boolean())
    .map(([missed, lost, landed, s, h, l]) => [
      s ? missed + lost + landed : null,
      h ? lost + landed : null,
      l ? landed : null,
    ])
  await fc.assert(
    fc.asyncProperty(
      fc.array(row, { minLength: 1, maxLength: 12 }),
      fc.integer({ min: 1, max: 4 }),
      async (rows, perTrip) => {
        const book = temporaryLogbook()
        const lines = rows.map(
          ([s, h, l], i) =>
            `T${Math.floor(i / perTrip)},2024-05-11,${6 + i}:00,${6 + i}:30,${s ?? ""},${h ?? ""},${l ?? ""}`,
        )
        await importTables(book, {
          "stints.csv": ["trip,date,start,end,strikes,hook_ups,landed", ...lines].join("\n"),
        })
        const facts = new Map(
          factRows(book, "start_at", "strikes", "hook_ups", "landed").map((fact) => [fact["start_at"], fact]),
        )
        for (const [i, [s = null, h = null, l = null]] of rows.entries()) {
          const fact = facts.get(Date.UTC(2024, 4, 11, 6 + i))
          expect(fact?.["strikes"]).toBe(s)
          expect(fact?.["hook_ups"]).toBe(h ?? (s === 0 || (s !== null && s === l) ? s : null))
          expect(fact?.["landed"]).toBe(l ?? (s === 0 || h === 0 ? 0 : null))
        }
      },
    ),
    { numRuns: 25, seed: 11 },
  )
})

const everything = `trip,date,start,end,spot,angler,rods,target,lure class,lure,colour,head weight (oz),pause_s,water temp (F),tide_stage,ground,sight,landed,notes
A,2024-05-11,06:00,07:00,drain,Ada,2,red drum,Jig,paddle,natural,1/4 oz,2,68,rising,mud,blind,1,first
A,2024-05-11,07:00,07:30,drain,Ada,1,red drum,jig,paddle,natural,1/4,4,,falling,mud,blind,0,
B,2024-05-18,06:00,06:45,Drain,Ada,1,red drum,popping cork,,,,,70,,,,2,`

test("words, conditions and effort of a row reach stint_fact with their sources", async () => {
  const book = temporaryLogbook()
  const done = await importTables(book, { "stints.csv": everything }, { zone: "America/New_York" })
  expect(done.refused).toEqual([])
  expect(done.creates).toMatchObject({
    trips: 2,
    stops: 2,
    stints: 3,
    spots: 1,
    lure_classes: 2,
    presentations: 2,
  })
  const facts = factRows(
    book,
    "trip_label",
    "rod_hours",
    "lure_class",
    "colour",
    "head_weight_g",
    "pause_s",
    "pause_s_source",
    "water_temp_c",
    "water_temp_c_source",
    "tide_stage",
    "tide_stage_source",
    "ground",
    "ground_source",
    "spot",
    "order_in_stop",
    "days_rested",
    "hour_local",
    "hour_local_source",
    "month",
    "target_species_id IS NOT NULL AS targeted",
  )
  const common = {
    trip_label: "A",
    lure_class: "Jig",
    colour: "natural",
    head_weight_g: 7.08738078125,
    spot: "drain",
  }
  expect(facts[0]).toMatchObject({
    ...common,
    rod_hours: 2,
    pause_s: 2,
    pause_s_source: "stint",
    water_temp_c: 20,
    water_temp_c_source: "imported",
    tide_stage: "rising",
    tide_stage_source: "imported",
    ground: "mud",
    ground_source: "stop",
    order_in_stop: 1,
    days_rested: null,
    hour_local: 6.5,
    hour_local_source: conditionsMethod,
    month: 5,
    targeted: 1,
  })
  expect(facts[1]).toMatchObject({
    ...common,
    rod_hours: 0.5,
    pause_s: 4,
    water_temp_c: null,
    order_in_stop: 2,
  })
  expect(facts[2]).toMatchObject({
    trip_label: "B",
    lure_class: "popping cork",
    colour: null,
    pause_s: null,
    tide_stage: null,
    tide_stage_source: null,
    spot: "drain",
    days_rested: 7,
  })
  expect(checkFile(book.db)).toEqual([])
})

test("what is computed can be dropped and rebuilt, and what was imported stays", async () => {
  const book = temporaryLogbook()
  const table = everything.replace("tide_stage", "hour_local").replace("rising", "3.5").replace("falling", "")
  await importTables(book, { "stints.csv": table }, { zone: "America/New_York" })
  const read = () => factRows(book, "hour_local", "hour_local_source")
  const before = read()
  expect(before.map((fact) => fact["hour_local_source"])).toEqual([
    "imported",
    conditionsMethod,
    conditionsMethod,
  ])
  expect(before[0]?.["hour_local"]).toBe(3.5)
  book.db.exec("DELETE FROM computed WHERE method <> 'imported'")
  expect(read().map((fact) => fact["hour_local"])).toEqual([3.5, null, null])
  await bringUpToDate(book)
  expect(read()).toEqual(before)
})

test("the same table again adds nothing and says so; after taking back it adds everything", async () => {
  const book = temporaryLogbook()
  const first = await importTables(book, { "stints.csv": everything })
  const again = await importTables(book, { "stints.csv": everything })
  expect(again.batch).toBeNull()
  expect(again.already_there.map(({ line, of_line }) => [line, of_line])).toEqual([
    [2, null],
    [3, null],
    [4, null],
  ])
  expect(first.batch).not.toBeNull()
})

test("a species in two rows is one stint with its effort once, and its species apart", async () => {
  const book = temporaryLogbook()
  await importTables(book, {
    "stints.csv": `trip,date,start,end,species,landed
A,2024-05-11,06:00,07:00,red drum,2
A,2024-05-11,06:00,07:00,seatrout,1`,
  })
  expect(factRows(book, "rod_hours", "landed")).toEqual([{ rod_hours: 1, landed: 3 }])
  expect(
    book.db
      .prepare("SELECT species.name FROM strike JOIN species ON species.id = species_id ORDER BY 1")
      .pluck()
      .all(),
  ).toEqual(["red drum", "red drum", "seatrout"])
})

test("a strikes table replaces the counts and brings lengths", async () => {
  const book = temporaryLogbook()
  await importTables(book, {
    "stints.csv": `stint,trip,date,start,end,strikes,hook_ups,landed
1,A,2024-05-11,06:00,07:00,3,2,1
2,A,2024-05-11,07:00,08:00,0,0,0`,
    "strikes.csv": `stint,fate,species,length_in,kept
1,landed,red drum,22 1/2,no
1,bitten off,,,
1,missed,,,`,
  })
  expect(factRows(book, "strikes", "hook_ups", "landed")).toEqual([
    { strikes: 3, hook_ups: 2, landed: 1 },
    { strikes: 0, hook_ups: 0, landed: 0 },
  ])
  expect(book.db.prepare("SELECT length_mm FROM strike WHERE fate = 'landed'").pluck().get()).toBe(571.5)
})

test("one refused row stops everything only where the user says so", async () => {
  const table = `date,hours,landed\n2024-05-11,2,1\n2024-02-30,2,1`
  const book = temporaryLogbook()
  await expect(importTables(book, { "a.csv": table }, { all_or_nothing: true })).rejects.toThrow(
    /1 of 2 rows cannot be taken, so nothing was/,
  )
  expect(factRows(book, "stint_id")).toEqual([])
  const done = await importTables(book, { "a.csv": table })
  expect(done.creates.stints).toBe(1)
  expect(done.refused.map(({ line, column }) => [line, column])).toEqual([[3, "date"]])
})

test("two parties that agree but for their fish are two trips", async () => {
  const book = temporaryLogbook()
  const done = await importTables(book, {
    "a.csv": "date,end,hours,landed\n2021-06-14,09:05,0.75,5\n2021-06-14,09:05,0.75,0",
  })
  expect(done.creates).toMatchObject({ trips: 2, stints: 2 })
  expect(done.blank_trips).toBe(1)
  expect(done.cautions.map(({ code }) => code)).toContain("alike_rows")
})

test("light and moon follow from place and time; without a place there is no light", async () => {
  const book = temporaryLogbook()
  await importTables(
    book,
    {
      "a.csv": `trip,date,start,end,spot,lat,lon,landed
A,2026-05-15,06:00,06:20,marsh drain,31.4,-81.28,1
A,2026-05-15,12:50,13:10,marsh drain,31.4,-81.28,0
A,2026-05-15,20:20,20:40,marsh drain,31.4,-81.28,2
A,2026-05-15,23:20,23:40,somewhere,,,0`,
    },
    { zone: "America/New_York" },
  )
  // The words for these instants: 07-light.json in tests/reference/cases/conditions (Sapelo Island, Naval Observatory limits).
  expect(
    factRows(book, "light", "light_source").map((fact) => [fact["light"], fact["light_source"]]),
  ).toEqual([
    ["first light", conditionsMethod],
    ["day", conditionsMethod],
    ["last light", conditionsMethod],
    [null, null],
  ])
  const moons = factRows(book, "moon_illum").map((fact) => Number(fact["moon_illum"]))
  expect(moons.every((lit) => lit >= 0 && lit <= 0.05)).toBe(true)
})

test("strikes of a stint told in two rows of one name are counted once", async () => {
  const book = temporaryLogbook()
  await importTables(book, {
    "stints.csv": `stint,trip,date,start,end,species,landed
1,A,2024-05-11,06:00,07:00,red drum,1
1,A,2024-05-11,06:00,07:00,seatrout,1`,
    "strikes.csv": "stint,fate,species\n1,landed,red drum\n1,landed,seatrout",
  })
  expect(factRows(book, "rod_hours", "landed")).toEqual([{ rod_hours: 1, landed: 2 }])
})

test("a spot gets its place from whichever row tells it", async () => {
  const book = temporaryLogbook()
  await importTables(book, {
    "a.csv": `trip,date,hours,spot,lat,lon,station,landed
A,2024-05-11,1,drain,,,,0
B,2024-05-12,1,Drain,31.4,-81.28,,0
C,2024-05-13,1,drain,31.5,-81.30,8677344,0`,
  })
  expect(book.db.prepare("SELECT name, lat, lon, tide_station FROM spot").raw().all()).toEqual([
    ["drain", 31.4, -81.28, "8677344"],
  ])
})

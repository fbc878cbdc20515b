import { expect, test } from "vitest"
import { conditionsKeeper } from "../../../core/service/conditions.ts"
import { exportHandlers } from "../../../core/service/exports.ts"
import { oneAtATime } from "../../../core/service/queue.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { factorIds, factorOf, hasSource } from "../../../shared/factors.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"
import { context, factRows, importTables } from "./importing.ts"

const exported = async (book: Logbook, coordinates = false): Promise<Record<string, Uint8Array>> => {
  const queue = oneAtATime()
  const keeper = conditionsKeeper(book, queue, () => undefined)
  const { files } = await exportHandlers(book, queue, keeper)["export.tables"]({ coordinates }, context)
  return Object.fromEntries(files.map(({ name, bytes }) => [name, bytes]))
}
const text = (bytes: Uint8Array | undefined): string => new TextDecoder().decode(bytes)
const tablesOf = (files: Record<string, Uint8Array>, ...names: string[]) =>
  Object.fromEntries(names.map((name) => [name, files[name] ?? new Uint8Array()]))

/** Every kind of value the tables know, invented. */
const table = `trip,date,start,end,minutes,hours,rods,completeness,angler,spot,lat,lon,station,target,strikes,hook_ups,landed,follows,hang_ups,lures_lost,notes,lure class,lure,profile,lure length (in),colour,scented,lure_sound,imitates,head weight (oz),hook_shank,hook_style,cork_shape,cork_sound,cork_drop_mm,leader_length_mm,leader_strength (lb),bait,sink,presentation,retrieve_style,actions_per_cycle,pause_s,pace,rhythm,line,water_column,fished_depth_m,ground,structure,platform,sight,water_temp_c,visibility,water_colour,secchi_cm,salinity_psu,water_depth_m,water_movement,bank_water,wind_speed (kn),wind_dir_deg,cloud_okta,barometer_hpa,barometer_3h_hpa,bait_seen,tide_stage,tide_part,tide_phase_rad,tide_height_m,tide_rate_m_h,tide_range_m,tide_spring_neap,current_stage,current_speed_ms,light,sun_altitude_deg,moon_illum,moon_phase_rad
A,2024-05-11,06:00,07:00,,,2,partial,Ada,"marsh, drain",31.5376,-81.219,8677344,red drum,5,3,2,1,4,1,"=1+1",soft plastic on a jig head,"the ""old"" one",paddle tail,3,natural,yes,none,shrimp,1/4,short,open,,,,600,20,tipped,slow,,bottom bounce,2,3.5,slow,broken,slight slack,just off bottom,1.5,mud,creek mouth,anchored,blind,21.5,stained,tea,40,18.5,2.5,easy,half way up,8,45,3,1018,-1.2,mullet,rising,middle of the rise,1.2,1.1,0.4,2.2,1.05,flood,0.4,day,34,0.4,1.1
A,2024-05-11,07:10,08:00,40,,1,,Ada,bar,,,,red drum,,,,,,,@home,popping-cork rig,,,,,,,,,,,oval,rattle,600,,,live shrimp,,,pop and pause,1,5,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,
,2024-05-12,,,,3.25,1,,Ben,,,,,,2,,1,,,,'quoted,spoon,,,,metallic,,,,,,,,,,,,,,,steady,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,,`

const compared = factorIds.flatMap((id) => (hasSource(id) ? [id, `${id}_source`] : [id]))
const facts = (book: Logbook) =>
  factRows(
    book,
    ...compared,
    "rod_hours",
    "effort_source",
    "strikes",
    "hook_ups",
    "landed",
    "follows",
    "hang_ups",
    "lures_lost",
    "notes",
    "completeness",
    "start_at",
    "end_at",
    "trip_date",
    "trip_zone",
    "grouping",
    "stop_ordinal",
  )

test.each([
  ["CSV", ["stints.csv", "strikes.csv"]],
  ["XLSX", ["logbook.xlsx"]],
])("what was exported as %s and read into another logbook is the same, value for value", async (_, names) => {
  const book = temporaryLogbook()
  const done = await importTables(book, { "stints.csv": table }, { zone: "America/New_York" })
  expect(done.refused).toEqual([])
  const files = await exported(book)
  const copy = temporaryLogbook()
  const copied = await importTables(copy, tablesOf(files, ...names))
  expect(copied.refused).toEqual([])
  const was = facts(book).map(({ stop_ordinal: _stop, ...fact }) => fact)
  expect(facts(copy).map(({ stop_ordinal: _stop, ...fact }) => fact)).toEqual(was)
  const again = await exported(copy)
  expect(text(again["strikes.csv"])).toBe(text(files["strikes.csv"]))
  expect(text(again["stints.csv"])).toBe(text(files["stints.csv"]))
})

test("the stints table has a column for every factor that is a record, and the facts table for every factor", async () => {
  const files = await exported(temporaryLogbook())
  const stints = text(files["stints.csv"]).trim().split(",")
  const facts = text(files["facts.csv"]).trim().split(",")
  for (const id of factorIds) {
    expect([id, stints.includes(id)]).toEqual([id, factorOf(id).home !== "derived"])
    expect(facts).toContain(id)
  }
})

test("no cell of an export is one a spreadsheet would run, and places are left out unless asked for", async () => {
  const book = temporaryLogbook()
  await importTables(book, { "stints.csv": table })
  const files = await exported(book)
  for (const name of ["stints.csv", "strikes.csv", "facts.csv"])
    expect(text(files[name])).not.toMatch(/(^|,|\n)"?[=+@\t]/)
  expect(text(files["stints.csv"])).toContain("'=1+1")
  for (const name of ["stints.csv", "facts.csv"])
    expect(text(files[name])).not.toMatch(/31\.5376|81\.219|8677344/)
  expect(text((await exported(book, true))["stints.csv"])).toMatch(/31\.5376,-81\.219,8677344/)
})

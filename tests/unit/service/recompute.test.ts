import { expect, test } from "vitest"
import { z } from "zod"
import { api, type Input } from "../../../shared/api.ts"
import { conditionsMethod } from "../../../core/conditions/compute.ts"
import { reach_km } from "../../../core/conditions/spotWater.ts"
import { bringUpToDate } from "../../../core/service/conditions.ts"
import { openBook } from "../../../core/service/open.ts"
import { makeService } from "../../../core/service/service.ts"
import { countStale } from "../../../core/store/computed.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { knownMigrations } from "../../../core/store/migrate.ts"
import { add, put, rowById } from "../../../core/store/put.ts"
import { context, factRows, importTables } from "../exchange/importing.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"

/** Three stints at each of two spots near one another, one at a far spot, one without a spot, one without a clock. */
const table = [
  "trip,date,start,end,hours,spot,lat,lon,tide_stage,notes",
  "T1,2025-05-15,06:00,06:40,,North bar,31.39,-81.288,,n1",
  "T1,2025-05-15,06:40,07:20,,North bar,31.39,-81.288,,n2",
  "T1,2025-05-15,07:20,08:00,,South bar,31.42,-81.30,,s1",
  "T2,2025-06-20,18:00,18:40,,North bar,31.39,-81.288,rising,n3",
  "T2,2025-06-20,18:40,19:20,,South bar,31.42,-81.30,,s2",
  "T3,2025-07-01,09:00,10:00,,Gulf pier,29.30,-94.79,,g1",
  "T4,2025-07-02,09:00,10:00,,,,,,w1",
  "T5,2025-07-03,,,1,North bar,31.39,-81.288,,u1",
].join("\n")
const zone = "America/New_York"

async function bookOfStints(): Promise<Logbook> {
  const book = temporaryLogbook()
  await importTables(book, { "stints.csv": table }, { zone })
  return book
}

/** The computed row of every stint that has one, by the stint's note; each working out makes a row with a new id. */
const Computed = z.array(z.looseObject({ notes: z.string(), id: z.string(), method: z.string() }))
type Worked = ReadonlyMap<string, z.infer<typeof Computed>[number]>
const workedOut = (book: Logbook): Worked =>
  new Map(
    Computed.parse(
      book.db
        .prepare(
          `SELECT stint.notes, computed.* FROM computed JOIN stint ON stint.id = computed.stint_id
           WHERE method <> 'imported' ORDER BY stint.notes`,
        )
        .all(),
    ).map((row) => [row.notes, row]),
  )

/** Notes of the stints whose conditions were worked out anew, or lost, between two looks. */
const touched = (before: Worked, after: Worked): string[] =>
  [...before.keys(), ...[...after.keys()].filter((notes) => !before.has(notes))].filter(
    (notes) => before.get(notes)?.id !== after.get(notes)?.id,
  )

/** What was worked out, without the marks of when. */
const values = (worked: Worked): unknown =>
  [...worked.values()].map((row) =>
    Object.entries(row).filter(([column]) => !["id", "created_at", "updated_at"].includes(column)),
  )

function serviceOf(book: Logbook) {
  const service = makeService(
    book,
    async () => Promise.reject(new Error("nothing is asked")),
    () => undefined,
  )
  const settle = () => service["conditions.settled"]({}, context)
  return {
    settle,
    save: async (input: Input<"spots.save">) => {
      const saved = await service["spots.save"](api["spots.save"].input.parse(input), context)
      await settle()
      return saved
    },
    undo: async (act: string) => {
      await service["history.undo"]({ act }, context)
      await settle()
    },
    keepStation: async (lat: number, lon: number, minutes: number) => {
      const side = { minutes, ratio: 1, plus_m: 0 }
      const kept = await service["stations.save"](
        {
          name: `Own station at ${lat}`,
          lat,
          lon,
          source: "own readings, June 2025",
          prediction: { how: "tide offsets", reference: "8670870", high: side, low: side },
        },
        context,
      )
      await settle()
      return kept
    },
  }
}

const idOf = (book: Logbook, entity: "spot" | "stint", by: "name" | "notes", value: string): string =>
  z.string().parse(book.db.prepare(`SELECT id FROM ${entity} WHERE ${by} = ?`).pluck().get(value))
const spotId = (book: Logbook, name: string) => idOf(book, "spot", "name", name)

/** Edits a stint's clock as a form would: the one way a row changes. */
const editClock = (book: Logbook, notes: string, start_at: number | null, end_at: number | null) =>
  book.change((open) => {
    const stint = rowById(open.db, "stint", idOf(book, "stint", "notes", notes))
    if (stint === null) throw new Error(`no stint ${notes}`)
    put(open, "stint", { ...stint, start_at, end_at, effort_minutes: 40 })
  })

test("an import's conditions are worked out from each stint's own place and time", async () => {
  const book = await bookOfStints()
  const worked = workedOut(book)
  expect([...worked.keys()]).toEqual(["g1", "n1", "n2", "n3", "s1", "s2", "w1"]) // u1 has no clock
  expect(worked.get("n1")).toMatchObject({ tide_station: "8675622", method: conditionsMethod })
  expect(worked.get("g1")?.["tide_station"]).not.toBe("8675622")
  expect(worked.get("w1")).toMatchObject({ tide_station: null, light: null })
  expect(worked.get("w1")?.["hour_local"]).toBe(9.5)
  expect(await bringUpToDate(book)).toBe(0)
})

test.each<[string, Input<"spots.save">, string]>([
  ["moving it", { coordinates: "31.55, -81.20" }, "tide_height_m"],
  ["choosing another station for it", { tide_station: "8670870" }, "tide_station"],
  ["giving it lags", { lag_high_min: 25, lag_low_min: 40 }, "tide_height_m"],
  ["timing its slacks", { slack_after_high_min: 60, slack_after_low_min: 60, slack_source: "own" }, "basis"],
])("%s works out the stints of a spot again, and no other", async (_, change, column) => {
  const book = await bookOfStints()
  const before = workedOut(book)
  const { stints } = await serviceOf(book).save({ id: spotId(book, "North bar"), ...change })
  const after = workedOut(book)
  expect(stints).toBe(4) // u1 is at it too, and has nothing to be worked out
  expect(touched(before, after)).toEqual(["n1", "n2", "n3"])
  for (const notes of ["n1", "n2", "n3"])
    expect(after.get(notes)?.[column]).not.toEqual(before.get(notes)?.[column])
})

test("what of a spot does not touch its water leaves all conditions alone", async () => {
  const book = await bookOfStints()
  const before = workedOut(book)
  await serviceOf(book).save({
    id: spotId(book, "North bar"),
    name: "Far bar",
    notes: "shells",
    ground: "mud",
  })
  expect(touched(before, workedOut(book))).toEqual([])
})

test("slacks that a person timed give a stage and no speed, and say more of a place than a station", async () => {
  const book = await bookOfStints()
  const { save } = serviceOf(book)
  const id = spotId(book, "North bar")
  const current = () => {
    const row = workedOut(book).get("n1")
    return [row?.["current_station"], row?.["current_speed_ms"], row?.["current_stage"]]
  }
  await save({ id, coordinates: "31.39, -81.5", tide_station: "8675622" })
  expect(current()).toEqual([null, null, null])
  await save({ id, current_station: "ACT7801" })
  expect(current()).toEqual(["ACT7801", expect.any(Number), expect.any(String)])
  await save({ id, slack_after_high_min: 60, slack_after_low_min: 60, slack_source: "own, June 2025" })
  expect(current()).toEqual([null, null, expect.any(String)])
})

test("editing one stint's clock works that one out again", async () => {
  const book = await bookOfStints()
  const before = workedOut(book)
  editClock(book, "n2", Date.parse("2025-05-15T15:00Z"), Date.parse("2025-05-15T15:40Z"))
  await serviceOf(book).settle()
  const after = workedOut(book)
  expect(touched(before, after)).toEqual(["n2"])
  expect(after.get("n2")?.["hour_local"]).toBeCloseTo(11 + 1 / 3, 9)
})

/** Sets the clock of the stop at which a stint was fished. */
const editStopClock = (book: Logbook, notes: string, start_at: number | null, end_at: number | null) =>
  book.change((open) => {
    const stint = rowById(open.db, "stint", idOf(book, "stint", "notes", notes))
    const stop = stint === null ? null : rowById(open.db, "stop", stint.stop_id)
    if (stop === null) throw new Error(`no stop of ${notes}`)
    put(open, "stop", { ...stop, start_at, end_at })
  })

test("a stint that loses its clock has its stop's, and without that no conditions, until a clock comes back", async () => {
  const book = await bookOfStints()
  const before = workedOut(book)
  const { settle } = serviceOf(book)
  const [start, end] = [Date.parse("2025-05-15T10:00Z"), Date.parse("2025-05-15T11:20Z")]
  editStopClock(book, "n2", start, end)
  editClock(book, "n2", null, null)
  await settle()
  expect(touched(before, workedOut(book))).toEqual(["n2"])
  expect(workedOut(book).get("n2")?.["hour_local"]).toBeCloseTo(6 + 2 / 3, 9) // the middle of the stop
  editStopClock(book, "n2", start, start + 3 * 3_600_000 + 1) // too long to tell when
  await settle()
  expect(workedOut(book).has("n2")).toBe(false)
  editStopClock(book, "n2", null, null)
  await settle()
  expect([...workedOut(book).keys()]).toEqual(["g1", "n1", "n3", "s1", "s2", "w1"])
  editClock(book, "n2", Date.parse("2025-05-15T10:40Z"), end)
  await settle()
  expect(values(workedOut(book))).toEqual(values(before))
})

test("a station of one's own works out the stints within its reach again, and so does its change", async () => {
  const book = await bookOfStints()
  const { keepStation, settle } = serviceOf(book)
  const before = workedOut(book)
  const { id } = await keepStation(31.39, -81.288, 44)
  const kept = workedOut(book)
  expect(touched(before, kept)).toEqual(["n1", "n2", "n3", "s1", "s2"])
  expect(kept.get("n1")?.["tide_station"]).toBe(id)
  await new Promise((resolve) => setTimeout(resolve, 2)) // a change of the same millisecond is the same change
  book.change((open) => {
    const station = rowById(open.db, "own_station", id)
    if (station === null) throw new Error("no station")
    put(open, "own_station", { ...station, definition: station.definition.replaceAll("44", "90") })
  })
  await settle()
  const changed = workedOut(book)
  expect(touched(kept, changed)).toEqual(["n1", "n2", "n3", "s1", "s2"])
  expect(changed.get("n1")?.["tide_height_m"]).not.toBe(kept.get("n1")?.["tide_height_m"])
})

test("a station of one's own does nothing to spots whose stations were chosen, until it is chosen", async () => {
  const book = await bookOfStints()
  const { save, keepStation } = serviceOf(book)
  for (const name of ["North bar", "South bar"])
    await save({ id: spotId(book, name), tide_station: "8675622", current_station: "ACT7801" })
  const before = workedOut(book)
  const { id } = await keepStation(31.39, -81.288, 44)
  expect(touched(before, workedOut(book))).toEqual([])
  await save({ id: spotId(book, "South bar"), tide_station: id })
  expect(touched(before, workedOut(book))).toEqual(["s1", "s2"])
})

test("a station of one's own too far for any reach leaves conditions alone", async () => {
  const book = await bookOfStints()
  const before = workedOut(book)
  await serviceOf(book).keepStation(33, -79.5, 44)
  expect(touched(before, workedOut(book))).toEqual([])
  expect(reach_km.tide).toBeLessThan(55) // what core/store/computed.ts takes for beyond all reach
})

test("undoing a station of one's own gives the conditions of before", async () => {
  const book = await bookOfStints()
  const { keepStation, undo } = serviceOf(book)
  const before = workedOut(book)
  const { act } = await keepStation(31.39, -81.288, 44)
  expect(touched(before, workedOut(book))).not.toEqual([])
  await undo(act)
  expect(values(workedOut(book))).toEqual(values(before))
})

test("undoing a moved spot brings its old conditions back, and undoing that the new ones", async () => {
  const book = await bookOfStints()
  const { save, undo } = serviceOf(book)
  const before = workedOut(book)
  const { act } = await save({ id: spotId(book, "North bar"), coordinates: "29.3, -94.79", lag_high_min: 9 })
  const moved = workedOut(book)
  expect(touched(before, moved)).toEqual(["n1", "n2", "n3"])
  await undo(act)
  expect(values(workedOut(book))).toEqual(values(before))
  await expect(undo(act)).rejects.toThrow(/Undo the later act first/)
  const undone = z
    .string()
    .parse(book.db.prepare("SELECT batch FROM change ORDER BY id DESC LIMIT 1").pluck().get())
  await undo(undone)
  expect(values(workedOut(book))).toEqual(values(moved))
})

test("imported conditions stay through every recomputation, and are what analysis sees", async () => {
  const book = await bookOfStints()
  const imported = () => book.db.prepare("SELECT * FROM computed WHERE method = 'imported'").all()
  const before = imported()
  expect(before).toHaveLength(1)
  await serviceOf(book).save({ id: spotId(book, "North bar"), coordinates: "29.3, -94.79" })
  expect(imported()).toEqual(before)
  expect(workedOut(book).get("n3")?.["tide_height_m"]).toEqual(expect.any(Number))
  const stages = factRows(book, "tide_stage", "tide_stage_source")
  expect(stages).toContainEqual({ tide_stage: "rising", tide_stage_source: "imported" })
})

test("conditions of another method are worked out again at the next settling, and only they", async () => {
  const book = await bookOfStints()
  const before = workedOut(book)
  book.change(({ db }) => {
    db.prepare("UPDATE computed SET method = 'sky 0', tide_height_m = 99 WHERE id = ?").run(
      before.get("s1")?.id,
    )
  })
  expect(book.read((db) => countStale(db, conditionsMethod))).toBe(1)
  await serviceOf(book).settle()
  const after = workedOut(book)
  expect(touched(before, after)).toEqual(["s1"])
  expect(values(after)).toEqual(values(before))
})

test("dropping everything that was worked out and working it out again gives the same", async () => {
  const book = await bookOfStints()
  const before = workedOut(book)
  book.change(({ db }) => void db.prepare("DELETE FROM computed WHERE method <> 'imported'").run())
  expect(await bringUpToDate(book)).toBe(before.size)
  expect(values(workedOut(book))).toEqual(values(before))
})

test("cancelling leaves what was done, and the rest is done the next time", async () => {
  const book = await bookOfStints()
  book.change((open) => {
    const stint = rowById(open.db, "stint", idOf(book, "stint", "notes", "n1"))
    if (stint === null) throw new Error("no stint")
    for (let i = 0; i < 1200; i++) add(open, "stint", { ...stint, ordinal: i + 10, notes: `more ${i}` })
  })
  const controller = new AbortController()
  const seen: number[] = []
  const watch = {
    signal: controller.signal,
    progress: (done: number) => {
      seen.push(done)
      controller.abort()
    },
  }
  const stale = () => book.read((db) => countStale(db, conditionsMethod))
  expect(stale()).toBe(1200)
  await expect(bringUpToDate(book, watch)).rejects.toThrow(/abort/i)
  const [done = 0] = seen
  expect(done).toBeGreaterThan(0)
  expect(done).toBeLessThan(1200)
  expect(stale()).toBe(1200 - done)
  expect(await bringUpToDate(book)).toBe(1200 - done)
  expect(stale()).toBe(0)
})

test("a logbook that may only be read is left alone, and says how much is behind", async () => {
  const book = await bookOfStints()
  editClock(book, "n2", Date.parse("2025-05-15T15:00Z"), Date.parse("2025-05-15T15:40Z"))
  const before = workedOut(book)
  book.db.pragma(`user_version = ${knownMigrations().length + 1}`)
  const newer = await openBook(book.file)
  expect(newer.readOnly).toBe(true)
  expect(await bringUpToDate(newer)).toBe(0)
  expect(await serviceOf(newer).settle()).toEqual({ conditions_behind: 1 })
  newer.close()
  expect(touched(before, workedOut(book))).toEqual([])
})

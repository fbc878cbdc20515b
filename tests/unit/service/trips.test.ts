import { expect, test } from "vitest"
import { z } from "zod"
import { makeService } from "../../../core/service/service.ts"
import { newSampleBook } from "../../../core/service/sample.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { add } from "../../../core/store/put.ts"
import { api, type Output } from "../../../shared/api.ts"
import { isFactorId } from "../../../shared/factors.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { context, importTables } from "../exchange/importing.ts"
import { temporaryFolder, temporaryLogbook } from "../store/temporaryLogbook.ts"
import { join } from "node:path"

/** The trips of a logbook as a window gets them, each answer checked against the contract. */
function tripsOf(book: Logbook) {
  const service = makeService(
    book,
    async () => Promise.reject(new Error("nothing is asked")),
    () => undefined,
  )
  return {
    service,
    list: async () => api["trips.list"].output.parse(await service["trips.list"]({}, context)),
    page: async (trip: string) =>
      api["trips.page"].output.parse(await service["trips.page"]({ trip }, context)),
    strips: async (trips: string[]) =>
      api["trips.strips"].output.parse(await service["trips.strips"]({ trips }, context)),
  }
}

const day = [
  "trip,start,end,zone,spot,lat,lon,rods,angler,lure_class,target,strikes,hook_ups,landed,species,hang_ups,water_temp_c,wind_speed_ms",
  "dawn,2024-05-11T06:20,2024-05-11T07:05,America/New_York,Marsh drain,31.39,-81.288,1,Ada,topwater walker,spotted seatrout,4,3,2,spotted seatrout,0,22.5,3",
  "dawn,2024-05-11T07:05,2024-05-11T08:00,America/New_York,Marsh drain,31.39,-81.288,1,Ada,spoon,spotted seatrout,0,0,0,,1,,",
  "dawn,2024-05-11T08:30,2024-05-11T09:00,America/New_York,Oyster bar,31.40,-81.29,2,Ben,spoon,spotted seatrout,1,1,1,red drum,0,,",
  "later,2024-06-01T10:00,2024-06-01T11:00,America/New_York,Oyster bar,31.40,-81.29,1,Ben,spoon,,,,,,,,",
].join("\n")

async function imported() {
  const book = temporaryLogbook()
  await importTables(book, { "stints.csv": day })
  const trips = tripsOf(book)
  const [later, dawn] = await trips.list()
  if (later === undefined || dawn === undefined) throw new Error("two trips were imported")
  return { book, trips, later, dawn }
}

test("the list has every trip, latest first, with what was counted; what was not is unknown and no zero", async () => {
  const { later, dawn } = await imported()
  expect(dawn).toMatchObject({
    date: "2024-05-11",
    label: "dawn",
    anglers: ["Ada", "Ben"],
    spots: ["Marsh drain", "Oyster bar"],
    target: "spotted seatrout",
    stints: 3,
    strikes: 5,
    landed: 3,
    status: "closed",
    completeness: "complete",
  })
  // 45 minutes and 55 minutes with one rod, 30 with two
  expect(dawn.rod_hours).toBeCloseTo(0.75 + 55 / 60 + 1, 9) // only rounding is left
  expect(later).toMatchObject({ label: "later", stints: 1, rod_hours: 1, strikes: null, landed: null })
})

test("a trip's page holds its stops, stints and fish, its conditions by factor with their sources, and its cautions", async () => {
  const { trips, dawn, later } = await imported()
  const page = await trips.page(dawn.id)
  expect(page).toMatchObject({ ...dawn, zone: "America/New_York", recorded: "later" })
  expect([page.previous, page.next]).toEqual([null, later.id])
  expect((await trips.page(later.id)).previous).toBe(dawn.id)
  expect(page.counted).toEqual({ misses: true, losses: true, landed: true, follows: false, hang_ups: true })
  expect(page.stops.map(({ spot, stints }) => [spot, stints.length])).toEqual([
    ["Marsh drain", 2],
    ["Oyster bar", 1],
  ])
  const [first, second] = page.stops[0]?.stints ?? []
  expect(first).toMatchObject({
    strikes: 4,
    hook_ups: 3,
    landed: 2,
    follows: null,
    hang_ups: 0,
    angler: "Ada",
  })
  expect(first?.fish.map(({ fate, species }) => [fate, species]).toSorted()).toEqual([
    ["landed", "spotted seatrout"],
    ["landed", "spotted seatrout"],
    ["lost", "spotted seatrout"],
    ["missed", "spotted seatrout"],
  ])
  const told = new Map(first?.conditions.map(({ factor, value, source }) => [factor, [value, source]]))
  expect(told.get("water_temp_c")).toEqual([22.5, "imported"])
  expect(told.get("tide_stage")?.[1]).toMatch(/^sky \d+, tide \d+$/)
  expect([...told.keys()].every(isFactorId)).toBe(true)
  expect(second?.conditions.some(({ factor }) => factor === "water_temp_c")).toBe(false)
  expect(page.cautions.map(({ code }) => code)).toContain("predicted_not_observed")
  expect(page.strip?.stints.map(({ landed }) => landed)).toEqual([2, 0, 1])
})

test("a trip without water near a station carries no caution of predicted tides", async () => {
  const book = temporaryLogbook()
  await importTables(book, { "a.csv": "trip,date,hours,landed\npond,2024-05-11,2,1" })
  const trips = tripsOf(book)
  const [pond] = await trips.list()
  const page = await trips.page(pond?.id ?? "")
  expect([page.strip, page.cautions]).toEqual([null, []])
})

test("strips come for the trips asked about, null where nothing has a clock, none for what is no trip", async () => {
  const { trips, dawn, later, book } = await imported()
  await importTables(book, { "b.csv": "trip,date,hours,landed\npond,2024-07-11,2,1" })
  const pond = (await trips.list()).find(({ label }) => label === "pond")
  const gone = "01a214b8-7465-7000-8000-4834ec429426"
  const strips = await trips.strips([dawn.id, pond?.id ?? "", gone])
  expect(Object.keys(strips).toSorted()).toEqual([dawn.id, pond?.id ?? ""].toSorted())
  expect(strips[pond?.id ?? ""]).toBeNull()
  expect(strips[dawn.id]).toEqual((await trips.page(dawn.id)).strip)
  expect(strips[dawn.id]?.said).not.toEqual((await trips.strips([later.id]))[later.id]?.said)
})

test("the day is said in the logbook's units", async () => {
  const { trips, dawn } = await imported()
  const said = async () => (await trips.strips([dawn.id]))[dawn.id]?.said
  expect(await said()).toMatch(/high \d+:\d\d \(\d\.\d m\)/)
  await trips.service["settings.save"]({ units: presets.us }, context)
  expect(await said()).toMatch(/high \d+:\d\d \(\d\.\d ft\)/)
})

test("a trip that is not there, or was taken back, is told by a sentence and no longer listed", async () => {
  const { trips, book, dawn } = await imported()
  const [batch] = z.array(z.string()).parse(book.db.prepare("SELECT id FROM import_batch").pluck().all())
  await trips.service["import.take_back"]({ batch: batch ?? "", edited_too: false }, context)
  expect(await trips.list()).toEqual([])
  await expect(trips.page(dawn.id)).rejects.toThrow(/no longer in this logbook/)
})

test("a planned trip is listed without numbers", async () => {
  const book = temporaryLogbook()
  book.change((change) =>
    add(change, "trip", {
      date: "2027-05-01",
      zone: "America/New_York",
      completeness: "complete",
      counted_misses: 1,
      counted_losses: 1,
      counted_landed: 1,
      counted_follows: 0,
      counted_hang_ups: 0,
      status: "planned",
      grouping: "said",
    }),
  )
  const trips = tripsOf(book)
  const [plan] = await trips.list()
  expect(plan).toMatchObject({ status: "planned", stints: 0, rod_hours: null, strikes: null, landed: null })
  expect(await trips.page(plan?.id ?? "")).toMatchObject({ ...plan, stops: [], strip: null })
})

test("every trip of the sample has a page that agrees with the list, with its strip, and with its neighbours", async () => {
  const { book } = await newSampleBook(join(temporaryFolder(), "sample.stintbook"), { seed: 7, seasons: 1 })
  const trips = tripsOf(book)
  const list = await trips.list()
  const strips = await trips.strips(list.slice(0, 100).map(({ id }) => id))
  let fish = 0
  for (const [i, listed] of list.slice(0, 100).entries()) {
    const page: Output<"trips.page"> = await trips.page(listed.id)
    const { rod_hours, ...rest } = listed
    expect(page).toMatchObject(rest)
    expect(page.rod_hours ?? -1).toBeCloseTo(rod_hours ?? -1, 9) // summed in another order
    expect(page.strip).toEqual(strips[listed.id])
    expect([page.next, page.previous]).toEqual([list[i - 1]?.id ?? null, list[i + 1]?.id ?? null])
    fish += page.strip?.fish.length ?? 0
    for (const { at } of page.strip?.fish ?? [])
      expect(at >= (page.strip?.from ?? Infinity) && at <= (page.strip?.to ?? -Infinity)).toBe(true)
  }
  expect(fish).toBeGreaterThan(100)
  book.close()
})

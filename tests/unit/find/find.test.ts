import { join } from "node:path"
import { expect, test } from "vitest"
import { newSampleBook, usualSample } from "../../../core/service/sample.ts"
import { readSearch } from "../../../core/find/readSearch.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { dayBook } from "../day/dayBook.ts"

test("trips are found by words and by conditions of one and the same stint", async () => {
  const { call, trip } = dayBook()
  const keep = async (date: string, text: string, notes: string | null = null) => {
    const id = trip({ date, notes, status: "closed" })
    await call("day.save", { trip: id, was: "", text })
    return id
  }
  // on that coast the sun rises at about 6:30 in May: 5:00 is night or first light, 9:00 day
  const dawnBlank = await keep("2026-05-15", "500 md wk.m\n545 pt\n900x")
  const dawnFish = await keep("2026-05-16", "500 md wk rd24\n545 pt\n900x")
  const dayBlank = await keep("2026-05-17", "500 md pt\n900 wk\n1000x", "Swell at the inlet")
  await call("conditions.settled", {})
  const find = async (text: string) => call("trips.find", { text })
  expect(await find("topwater before sunrise, blank")).toEqual({
    trips: [dawnBlank],
    said: "lure class topwater walker, night or first light before noon, the trip without a fish",
  })
  expect((await find("topwater before sunrise")).trips).toEqual([dawnFish, dawnBlank])
  // a stint may be blank on a day with fish
  expect(await find("paddle tail, blank stint")).toEqual({
    trips: [dayBlank, dawnFish, dawnBlank],
    said: "profile paddle tail, a stint without a fish",
  })
  expect((await find("topwater blank stints")).trips).toEqual([dayBlank, dawnBlank])
  expect((await find("topwater")).trips).toEqual([dayBlank, dawnFish, dawnBlank])
  expect((await find("red drum")).trips).toEqual([dawnFish])
  expect((await find("swell")).trips).toEqual([dayBlank])
  expect((await find("swell with a fish")).trips).toEqual([])
  expect((await find("may 2026")).trips.length).toBe(3)
  expect((await find("100%_!")).trips).toEqual([])
  expect(await find("")).toMatchObject({ said: "every trip" })
})

test("conditions agree with the facts of the whole sample", async () => {
  const { book } = await newSampleBook(join(temporaryFolder(), "sample.stintbook"), usualSample)
  const { call } = dayBook(book, false)
  const { trips } = await call("trips.find", { text: "spoon stained fall" })
  const expected = book.db
    .prepare(
      `SELECT DISTINCT trip_id FROM stint_fact
       WHERE lure_class = 'spoon' AND visibility = 'stained' AND month IN (9, 10, 11) AND status = 'closed'`,
    )
    .pluck()
    .all()
  expect(trips.length).toBeGreaterThan(0)
  expect([...trips].toSorted()).toEqual([...expected].map(String).toSorted())
  book.close()
})

test("the longest phrase wins, and words that mean nothing alone are left out", () => {
  const vocabulary = [
    { factor: "lure_class" as const, levels: ["topwater walker", "spoon"] },
    { factor: "light" as const, levels: ["night", "first light", "day", "last light"] },
  ]
  expect(readSearch("trips with a spoon at first light", vocabulary, presets.us)).toEqual({
    wish: {
      stint: [
        { anyOf: [{ factor: "lure_class", levels: ["spoon"] }] },
        { anyOf: [{ factor: "light", levels: ["first light"] }] },
      ],
      species: [],
      hours: null,
      blank: null,
      blankStint: false,
      counts: [],
      sizes: [],
      words: [],
    },
    said: "lure class spoon, light first light",
  })
})

const vocabulary = [
  { factor: "species" as const, levels: ["red drum", "spotted seatrout", "southern flounder"] },
  { factor: "visibility" as const, levels: ["clear", "slightly stained", "stained", "muddy"] },
  { factor: "presentation" as const, levels: ["stained cork"] },
]
const search = (text: string) => readSearch(text, vocabulary, presets.us)

test.each([
  // 60 F is 140/9 C, 5 kn is 5 x 1852/3600 m/s, 3 ft 0.9144 m, 1 inHg 33.86389 hPa: NIST SP 811 (2008) B.8, from memory
  ["water under 60", "water temperature under 60 °F", "water_temp_c", null, [15.555556, false]],
  ["water <60", "water temperature under 60 °F", "water_temp_c", null, [15.555556, false]],
  ["w at most 16c", "water temperature at most 16 °C", "water_temp_c", null, [16, true]],
  ["wind over 5", "wind over 5 kn", "wind_speed_ms", [2.572222, false], null],
  ["over 10 mph of wind", "wind over 10 mph", "wind_speed_ms", [4.4704, false], null],
  ["pause over 3", "pause over 3 s", "pause_s", [3, false], null],
  ["pause of 3", "pause 3 s", "pause_s", [2.5, true], [3.5, false]],
  ["pause 2.5 s or more", "pause at least 2.5 s", "pause_s", [2.5, true], null],
  ["secchi 2-3", "secchi depth 2 to 3 ft", "secchi_cm", [60.96, true], [91.44, true]],
  ["tide height between 2 and 1 m", "tide height 1 to 2 m", "tide_height_m", [1, true], [2, true]],
  ["moon lit over 50%", "moon lit over 50%", "moon_illum", [0.5, false], null],
  [
    "head weight 1/4 to 1/2",
    "head weight 1/4 to 1/2 oz",
    "head_weight_g",
    [7.087381, true],
    [14.174762, true],
  ],
  ["leader over 20 lb", "leader strength over 20 lb test", "leader_strength_n", [88.964432, false], null],
  ["barometer >= 30.1", "barometer at least 30.1 inHg", "barometer_hpa", [1019.303089, true], null],
  ["water deeper than 6 ft", "water depth over 6 ft", "water_depth_m", [1.8288, false], null],
] as const)("a condition in numbers is read and said back: %s", (text, said, factor, from, to) => {
  const end = (bound: readonly [number, boolean] | null) =>
    bound === null ? null : { value: bound[0], included: bound[1] }
  expect(search(text)).toMatchObject({
    said,
    wish: { stint: [{ anyOf: [{ factor, range: { from: end(from), to: end(to) } }] }], words: [] },
  })
})

test("conditions in numbers join the words beside them", () => {
  expect(search("depth 3 to 6 ft visibility stained blank").said).toBe(
    "water depth or depth fished 3 to 6 ft, visibility stained, the trip without a fish",
  )
  expect(search("wind over 2 and under 5, water under 60").said).toBe(
    "wind over 2 kn, wind under 5 kn, water temperature under 60 °F",
  )
  expect(search("more than 5 fish in may").said).toBe("over 5 fish landed in the trip, may")
  expect(search("at least 2 flounder, 3 strikes").said).toBe(
    "at least 2 southern flounder landed in the trip, 3 strikes in the trip",
  )
  expect(search("red drum over 24 in in spring").said).toBe("a red drum over 24 in landed, spring")
  expect(search("fish over 20 in spring").said).toBe("over 20 fish landed in the trip, spring")
  expect(search("fish over 3 lb").said).toBe("a fish over 3 lb landed")
  expect(search("red drum 2025").said).toBe("red drum landed, 2025")
})

test("what no condition can be made of is searched for as text, and said so", () => {
  expect(search("wind over heaps").said).toBe(
    '"wind" in notes or names, "over" in notes or names, "heaps" in notes or names',
  )
  expect(search("wind over 5 ft").said).toMatch(/^"wind" in notes or names/)
  expect(search("60 water").wish.words).toEqual(["60", "water"])
})

test("conditions in numbers agree with the facts of the whole sample", async () => {
  const { book } = await newSampleBook(join(temporaryFolder(), "sample.stintbook"), usualSample)
  const { call } = dayBook(book, false)
  const facts = (sql: string) => book.db.prepare(sql).pluck().all().map(String).toSorted()
  const stints = (where: string) => facts(`SELECT DISTINCT trip_id FROM stint_fact WHERE ${where}`)
  const trips = (having: string) => facts(`SELECT trip_id FROM stint_fact GROUP BY trip_id HAVING ${having}`)
  const found = async (text: string) => (await call("trips.find", { text })).trips.toSorted()
  const same = async (text: string, expected: readonly string[]) => {
    expect(expected.length).toBeGreaterThan(0)
    expect(await found(text), text).toEqual(expected)
  }
  await same("water under 60f", stints("water_temp_c < 140 / 9.0"))
  const blank = new Set(trips("count(landed) = count(*) AND sum(landed) = 0"))
  await same(
    "water under 60f blank",
    stints("water_temp_c < 140 / 9.0").filter((trip) => blank.has(trip)),
  )
  await same("wind over 5 m/s stained", stints("wind_speed_ms > 5 AND visibility = 'stained'"))
  await same("pause over 3 s", stints("pause_s > 3"))
  await same(
    "wind 3 to 4 m/s, tide range over 2 m",
    stints("wind_speed_ms BETWEEN 3 AND 4 AND tide_range_m > 2"),
  )
  await same("more than 10 fish", trips("total(landed) > 10"))
  await same("fewer than 3 strikes", trips("count(strikes) = count(*) AND sum(strikes) < 3"))
  await same("over 12 rod-hours", trips("total(rod_hours) > 12"))
  const landed = (where: string) =>
    `SELECT stop.trip_id FROM strike JOIN stint ON stint.id = strike.stint_id JOIN stop ON stop.id = stint.stop_id
     JOIN species ON species.id = strike.species_id WHERE fate = 'landed' AND species.name = 'red drum' AND ${where}`
  await same("red drum over 80 cm", facts(`SELECT DISTINCT trip_id FROM (${landed("length_mm > 800")})`))
  await same(
    "at least 3 red drum",
    facts(`SELECT trip_id FROM (${landed("1")}) GROUP BY trip_id HAVING count(*) >= 3`),
  )
  book.close()
})

import fc from "fast-check"
import { Temporal } from "temporal-polyfill"
import { expect, test } from "vitest"
import type { SpotWater } from "../../../core/conditions/spotWater.ts"
import { stationsWith } from "../../../core/conditions/stations/stations.ts"
import { dayStrip, skyOf } from "../../../core/trips/dayStrip.ts"
import { lanesOf } from "../../../core/trips/lanes.ts"
import { lightBands, litSpan } from "../../../core/trips/lightBands.ts"
import type { DayFish, DayStint, TripDay } from "../../../core/trips/tripDay.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { DayStrip } from "../../../shared/trips.ts"
import { publishedWaters } from "../../reference/tideCases.ts"

const zone = "America/New_York"
const sky = skyOf(stationsWith([]))
const hourMs = 3_600_000
const at = (text: string, where = zone): number =>
  Temporal.PlainDateTime.from(text).toZonedDateTime(where).epochMilliseconds

const water = (lat: number | null, lon: number | null, tide_station: string | null = null): SpotWater => ({
  lat,
  lon,
  tide_station,
  current_station: null,
  lag_high_min: null,
  lag_low_min: null,
  slack_after_high_min: null,
  slack_after_low_min: null,
})
const battery = water(40.7, -74.014, "8518750")

const stint = (
  id: string,
  from: string | null,
  to: string | null,
  more: Partial<DayStint> = {},
): DayStint => ({
  id,
  start_at: from === null ? null : at(from),
  end_at: to === null ? null : at(to),
  effort_minutes: null,
  lure_class: null,
  presentation: null,
  spot: null,
  landed: null,
  ...more,
})
const trip = (date: string, stints: readonly DayStint[], more: Partial<TripDay> = {}): TripDay => ({
  date,
  zone,
  stops: [{ start_at: null, end_at: null, spot: "the rip", water: battery }],
  stints,
  fish: [],
  ...more,
})
/** The strip, checked against the contract. */
function drawn(day: TripDay, units = presets.metric): DayStrip {
  return DayStrip.parse(dayStrip(day, sky, units))
}
const utc = (instant: number): string => new Date(instant).toISOString()

const midsummer = trip("2023-06-21", [
  stint("a", "2023-06-21T06:20", "2023-06-21T07:05", {
    spot: "the rip",
    presentation: "bone walker",
    lure_class: "topwater walker",
    landed: 2,
  }),
  stint("b", "2023-06-21T07:05", "2023-06-21T07:50", { spot: "the rip", lure_class: "spoon", landed: 0 }),
])

test("a day reaches from first light to last, parted where light changes, as almanacs have it", () => {
  // New York, 21 June 2023, eastern daylight time: civil twilight from 4:52, sunrise 5:25, sunset 20:31, civil twilight to
  // 21:04. US Naval Observatory, from memory: allowed to be off by three minutes.
  const { light, from, to } = drawn(midsummer)
  expect(light.map(({ word }) => word)).toEqual(["first light", "day", "last light"])
  const told = [4 * 60 + 52, 5 * 60 + 25, 20 * 60 + 31, 21 * 60 + 4]
  const edges = [...light.map((band) => band.from), to]
  for (const [i, edge] of edges.entries()) {
    const minutes = (edge - at("2023-06-21T00:00")) / 60_000
    expect(Math.abs(minutes - (told[i] ?? 0))).toBeLessThan(3)
  }
  expect([light[0]?.from, light.at(-1)?.to]).toEqual([from, to])
  for (const [i, band] of light.slice(1).entries()) expect(band.from).toBe(light[i]?.to)
})

test("the tide's highs and lows are those of the published table, and its curve runs through the whole day", () => {
  // NOAA/NOS/CO-OPS, annual tide predictions 2023, 8518750 The Battery, datum MLLW. The table was made with the constants of
  // its time: allowed to be off by 8 minutes and 5 cm.
  const { tide, from, to } = drawn(midsummer)
  const published = publishedWaters("data/noaa-8518750-2023.csv").filter(
    (one) => one.at > from && one.at < to,
  )
  expect(published.length).toBeGreaterThan(1)
  expect(tide?.waters.map(({ kind }) => kind)).toEqual(published.map(({ kind }) => kind))
  for (const [i, one] of (tide?.waters ?? []).entries()) {
    expect(Math.abs(one.at - (published[i]?.at ?? 0)) / 60_000).toBeLessThan(8)
    expect(Math.abs(one.height_m - (published[i]?.height_m ?? 0))).toBeLessThan(0.05)
  }
  const points = tide?.points ?? []
  expect([points[0]?.at, points.at(-1)?.at]).toEqual([from, to])
  expect(new Set(points.slice(1, -1).map((point, i) => point.at - (points[i]?.at ?? 0)))).toEqual(
    new Set([600_000]),
  )
  const highest = Math.max(...(tide?.waters ?? []).map(({ height_m }) => height_m))
  expect(Math.max(...points.map(({ height_m }) => height_m))).toBeLessThanOrEqual(highest + 1e-9) // only rounding
})

test("the day is said in words, in the trip's zone and the reader's units", () => {
  const { said } = drawn(midsummer)
  expect(said).toMatch(
    /^Tide predicted at New York \(The Battery\): (high|low) \d+:\d\d \(-?\d\.\d m\).*\. Light: first light 4:5\d to 5:2\d, day 5:2\d to 20:3\d, last light 20:3\d to 21:0\d\. /,
  )
  expect(said).toMatch(
    /6:20 to 7:05 at the rip with bone walker: 2 landed\. 7:05 to 7:50 at the rip with spoon: nothing landed\.$/,
  )
  expect(drawn(midsummer, presets.us).said).toMatch(/(high|low) \d+:\d\d \(-?\d\.\d ft\)/)
})

test("stints before dawn and after dusk widen the day", () => {
  const night = trip("2023-06-21", [
    stint("a", "2023-06-21T03:00", "2023-06-21T03:30"),
    stint("b", "2023-06-21T23:30", "2023-06-22T01:00"),
  ])
  const { from, to, light, said } = drawn(night)
  expect([utc(from), utc(to)]).toEqual([utc(at("2023-06-21T03:00")), utc(at("2023-06-22T01:00"))])
  expect(light.map(({ word }) => word)).toEqual(["night", "first light", "day", "last light", "night"])
  expect(said).toContain("23:30 to 1:00 on 2023-06-22: landed fish not counted.")
})

test("without a place there is no light and no tide, only the clock", () => {
  const { light, tide, from, to } = drawn({
    ...midsummer,
    stops: [{ start_at: at("2023-06-21T06:00"), end_at: at("2023-06-21T08:00"), spot: null, water: null }],
  })
  expect([light, tide]).toEqual([[], null])
  expect([from, to]).toEqual([at("2023-06-21T06:00"), at("2023-06-21T08:00")])
})

test("the first place with a tide gives it, and the first that is known the light", () => {
  const inland = water(39.1, -98.4)
  const stop = (spot: string, where: SpotWater) => ({ start_at: null, end_at: null, spot, water: where })
  const { tide, light } = drawn({ ...midsummer, stops: [stop("pond", inland), stop("the rip", battery)] })
  expect(tide?.station).toBe("New York (The Battery)")
  const rise = light.find(({ word }) => word === "day")?.from ?? 0
  expect((rise - at("2023-06-21T05:25")) / hourMs).toBeGreaterThan(1) // 24 degrees west: the sun is 1.6 h later
})

test("a trip in which nothing has a clock has no strip", () => {
  expect(dayStrip(trip("2023-06-21", [stint("a", null, null, { effort_minutes: 60 })]), sky)).toBeNull()
  expect(dayStrip(trip("2023-06-21", []), sky)).toBeNull()
})

test("a stint that only tells its start is as long as its minutes; one without a clock has no bar and is said", () => {
  const day = trip("2023-06-21", [
    stint("a", "2023-06-21T06:20", null, { effort_minutes: 40 }),
    stint("b", "2023-06-21T09:00", null),
    stint("c", null, null, { effort_minutes: 30 }),
  ])
  const { stints, said } = drawn(day)
  expect(stints.map(({ id, from, to }) => [id, (to - from) / 60_000])).toEqual([["a", 40]])
  expect(said).toMatch(/2 stints without a clock are not shown\.$/)
})

test("clocks that are days off the trip's date are left out rather than drawn", () => {
  const day = trip("2023-06-21", [
    stint("a", "2023-06-21T06:20", "2023-06-21T07:00"),
    stint("b", "2021-06-21T06:20", "2021-06-21T07:00"),
  ])
  const strip = drawn(day)
  expect(strip.stints.map(({ id }) => id)).toEqual(["a"])
  expect(strip.to - strip.from).toBeLessThan(24 * hourMs)
})

test("fish stand at their own time, the others evenly over their stint, and nowhere without a bar", () => {
  const fish = (of: string, when: string | null): DayFish => ({
    stint: of,
    at: when === null ? null : at(when),
    species: "striped bass",
  })
  const day = trip(
    "2023-06-21",
    [stint("a", "2023-06-21T06:00", "2023-06-21T07:00"), stint("b", null, null)],
    { fish: [fish("a", null), fish("a", "2023-06-21T06:17"), fish("a", null), fish("b", null)] },
  )
  const placed = drawn(day).fish
  expect(placed.map((one) => [utc(one.at), one.known])).toEqual([
    [utc(at("2023-06-21T06:15")), false],
    [utc(at("2023-06-21T06:17")), true],
    [utc(at("2023-06-21T06:45")), false],
  ])
  expect(placed.every(({ stint: of, species }) => of === "a" && species === "striped bass")).toBe(true)
})

test("stints at once lie in lanes, the fewest that keep them apart, and those that only touch share one", () => {
  const lanes = lanesOf([
    { from: 30, to: 60 },
    { from: 0, to: 30 },
    { from: 10, to: 40 },
    { from: 40, to: 50 },
    { from: 20, to: 25 },
  ])
  expect(lanes).toEqual([0, 0, 1, 1, 2])
})

test("whatever stints there are, no two of a lane overlap and no lane could be spared", () => {
  const stretch = fc
    .tuple(fc.integer({ min: 0, max: 200 }), fc.integer({ min: 1, max: 60 }))
    .map(([from, length]) => ({ from, to: from + length }))
  fc.assert(
    fc.property(fc.array(stretch, { maxLength: 30 }), (stretches) => {
      const lanes = lanesOf(stretches)
      const atOnce = stretches.map(
        ({ from: t }) => stretches.filter(({ from, to }) => from <= t && t < to).length,
      )
      const overlapping = stretches.some((a, i) =>
        stretches.some((b, j) => i < j && lanes[i] === lanes[j] && a.from < b.to && b.from < a.to),
      )
      expect(overlapping).toBe(false)
      expect(Math.max(0, ...lanes.map((lane) => lane + 1))).toBe(Math.max(0, ...atOnce))
    }),
    { seed: 11 },
  )
})

test("a day whose clocks change, and one of a zone far from the sun's, keep all of their light", () => {
  // The clocks of New York went forward on 12 March 2023 at 2:00.
  const spring = drawn(trip("2023-03-12", [stint("a", "2023-03-12T12:00", "2023-03-12T13:00")]))
  expect(spring.light.map(({ word }) => word)).toEqual(["first light", "day", "last light"])
  expect(spring.said).toMatch(/day 7:1\d to 18:5\d/)
  // In Urumqi the clocks are Beijing's, two hours ahead of the sun; a summer's last light there ends past 22:00.
  const west = lightBands(
    litSpan(sky.sunOf("2024-06-21", "Asia/Shanghai", { lat: 43.8, lon: 87.6 }), {
      start: at("2024-06-21T00:00", "Asia/Shanghai"),
      end: at("2024-06-22T00:00", "Asia/Shanghai"),
    }) ?? { start: 0, end: 1 },
    "Asia/Shanghai",
    { lat: 43.8, lon: 87.6 },
  )
  expect(west.map(({ word }) => word)).toEqual(["first light", "day", "last light"])
})

test("under the midnight sun the light is the whole day's; in polar night only the clock bounds it", () => {
  const there = { lat: 69.65, lon: 18.96 } // Tromso: sun up from late May to late July, below the horizon in December
  const tromso = (date: string): TripDay => ({
    ...trip(date, []),
    zone: "Europe/Oslo",
    stops: [{ start_at: null, end_at: null, spot: "pier", water: water(there.lat, there.lon) }],
    stints: [
      {
        ...stint("a", null, null),
        start_at: at(`${date}T12:00`, "Europe/Oslo"),
        end_at: at(`${date}T13:00`, "Europe/Oslo"),
      },
    ],
  })
  const summer = drawn(tromso("2024-06-21"))
  expect(summer.light.map(({ word }) => word)).toEqual(["day"])
  expect(summer.to - summer.from).toBe(24 * hourMs)
  const winter = drawn(tromso("2024-12-21"))
  expect(winter.light.some(({ word }) => word === "day")).toBe(false)
  expect(winter.to - winter.from).toBeLessThan(8 * hourMs)
})

test("a day that the zone's calendar left out is refused by a sentence", () => {
  // Samoa went from 29 to 31 December 2011.
  const day = { ...midsummer, date: "2011-12-30", zone: "Pacific/Apia" }
  expect(() => dayStrip(day, sky)).toThrow(/There was no 2011-12-30 in Pacific\/Apia/)
})

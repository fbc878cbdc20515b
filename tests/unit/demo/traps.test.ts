// Every trap is really staged, and whoever compares as fished is misled by it. Expected events of the planted truth,
// pooled over seeds, stand for a very long logbook; the multipliers planted for a class are what is really so.
import { expect, test } from "vitest"
import { makeSample } from "../../../core/demo/sample.ts"
import { planted } from "../../../core/demo/planted.ts"
import type { LureClass } from "../../../core/demo/lures.ts"
import { type Around, stintsAround } from "./factsOfSample.ts"
import { standInSky } from "./standInSky.ts"

type Row = Around & {
  readonly rodHours: number
  readonly landed: number
  readonly effect: number
  readonly seed: number
}

const total = (bySpecies: Readonly<Record<string, number>>) =>
  Object.values(bySpecies).reduce((sum, value) => sum + value, 0)

const rows: readonly Row[] = Array.from({ length: 40 }, (_, i) => i + 1).flatMap((seed) => {
  const sample = makeSample({ seed, seasons: 3 }, standInSky)
  const truth = new Map(sample.truth.stints.map((row) => [row.stint, row]))
  return stintsAround(sample).flatMap((around) => {
    const row = truth.get(around.stint.key)
    if (row === undefined || around.trip.completeness !== "complete") return []
    const effect = row.trip_effect
    return { ...around, seed, rodHours: row.rod_hours, effect, landed: effect * total(row.landed) }
  })
})

const hoursOf = (some: readonly Row[]) => some.reduce((hours, { rodHours }) => hours + rodHours, 0)
const rate = (some: readonly Row[]) => some.reduce((fish, { landed }) => fish + landed, 0) / hoursOf(some)
const ofClass = (name: LureClass) => (row: Row) => row.lureClass?.name === name
const jigs = rows.filter(ofClass("soft plastic on a jig head"))
/** Fish of a class beside a jig's: as planted, and as fished. */
const really = (name: LureClass) => landedPerStrike(name) / landedPerStrike("soft plastic on a jig head")
const landedPerStrike = (name: LureClass) =>
  planted.strikesByClass[name] * planted.hookedPerStrike[name] * planted.landedPerHooked[name]
const asFished = (name: LureClass) => rate(rows.filter(ofClass(name))) / rate(jigs)
const redLetter = ({ trip }: Row) => trip.notes?.startsWith("Everything ate") === true

test("the walker is thrown at first light only and so looks better than a jig, which it is not", () => {
  const walkers = rows.filter(ofClass("topwater walker"))
  const timed = walkers.filter(({ sky }) => sky !== null)
  const atFirstLight = timed.filter(({ sky }) => sky?.light === "first light")
  // Clocks written to five or ten minutes move a few stints over the edge.
  expect(hoursOf(atFirstLight) / hoursOf(timed)).toBeGreaterThan(0.9)
  expect(really("topwater walker")).toBeLessThan(0.7)
  expect(asFished("topwater walker")).toBeGreaterThan(1.3)
  const others = (row: Row) => row.sky?.light === "first light" && !ofClass("topwater walker")(row)
  // Other lures are thrown at first light too, so that holding light alike shows the truth.
  expect(hoursOf(rows.filter(others)) / hoursOf(walkers)).toBeGreaterThan(0.5)
  expect(rate(atFirstLight) / rate(rows.filter(others))).toBeLessThan(0.8)
})

test("the better angler's favourite looks better than it is", () => {
  const minnow = rows.filter(({ presentation }) => presentation?.code === "tw")
  const nells = minnow.filter(({ stint, angler }) => angler?.name === "Nell" || stint.rods > 1)
  expect(hoursOf(nells) / hoursOf(minnow)).toBeGreaterThan(0.5)
  expect(rate(minnow) / rate(jigs)).toBeGreaterThan(1.07)
  expect(really("suspending twitch bait")).toBeLessThan(0.95)
})

test("one red-letter day carries the spoon", () => {
  const spoons = rows.filter(ofClass("spoon"))
  for (let seed = 1; seed <= 40; seed++) {
    const trips = new Set(
      rows.filter((row) => row.seed === seed && redLetter(row)).map(({ trip }) => trip.key),
    )
    expect(trips.size).toBe(1)
  }
  expect(asFished("spoon")).toBeGreaterThan(2)
  expect(rate(spoons.filter((row) => !redLetter(row))) / rate(jigs)).toBeLessThan(1)
  expect(really("spoon")).toBeLessThan(0.8)
})

test("lures are changed because nothing bites, a favourite later than anything else", () => {
  const tobins = rows.filter((row) => row.angler?.name === "Tobin" && !redLetter(row))
  const favourite = tobins.filter(({ presentation }) => presentation?.code === "ck")
  const others = tobins.filter(({ presentation }) => presentation?.code !== "ck")
  const dryMinutes = (some: readonly Row[]) => {
    const slow = some.filter(({ stint }) => stint.why_changed === "slow")
    return (60 * hoursOf(slow)) / slow.length
  }
  expect(dryMinutes(favourite) / dryMinutes(others)).toBeGreaterThan(1.5)
  // What is changed soon on poor days is fished mostly on good ones: its hours had the better trips.
  const meanEffect = (some: readonly Row[]) =>
    some.reduce((sum, { effect, rodHours }) => sum + effect * rodHours, 0) / hoursOf(some)
  expect(meanEffect(others) / meanEffect(favourite)).toBeGreaterThan(1.05)
})

test("the first lure at a stop meets the unspooked fish, and the searching lure is thrown first", () => {
  const stick = rows.filter(ofClass("slow-sinking twitch bait"))
  const first = ({ stint, stop }: Row) => stint.start_at !== null && stint.start_at === stop.start_at
  const timed = stick.filter(({ stint }) => stint.start_at)
  expect(hoursOf(timed.filter(first)) / hoursOf(timed)).toBeGreaterThan(0.8)
  expect(asFished("slow-sinking twitch bait")).toBeGreaterThan(1.2)
  expect(really("slow-sinking twitch bait")).toBeLessThan(0.95)
})

test("long pauses pay in cold water and cost in warm, and over the year the short pause looks best", () => {
  const pause = ({ stint, retrieve }: Row) => stint.pause_s ?? retrieve?.pause_s
  const ratio = (some: readonly Row[]) =>
    rate(some.filter((row) => pause(row) === 10)) / rate(some.filter((row) => pause(row) === 2))
  const month = ({ trip }: Row) => Number(trip.date.slice(5, 7))
  expect(ratio(rows.filter((row) => [12, 1, 2].includes(month(row))))).toBeGreaterThan(1.4)
  expect(ratio(rows.filter((row) => [6, 7, 8].includes(month(row))))).toBeLessThan(0.7)
  expect(ratio(rows)).toBeLessThan(0.9)
})

test("the client who counts no misses would seem to hook everything", () => {
  const corwins = rows.filter(({ angler }) => angler?.name === "Corwin")
  expect(corwins.length).toBeGreaterThan(0)
  expect(corwins.flatMap(({ strikes }) => strikes).every(({ fate }) => fate !== "missed")).toBe(true)
  for (const { stint, trip } of corwins) expect(stint.counted_misses ?? trip.counted_misses).toBe(0)
})

test("follows are mostly uncounted, and then not written", () => {
  const trips = new Map(rows.map((row) => [`${row.seed} ${row.trip.key}`, row.trip]))
  const counted = [...trips.values()].filter(({ counted_follows }) => counted_follows === 1)
  expect(counted.length / trips.size).toBeLessThan(0.3)
  for (const { stint, trip } of rows)
    expect(stint.follows === null, stint.key).toBe(trip.counted_follows === 0)
})

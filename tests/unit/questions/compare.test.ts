// Intervals: cases/stats of tests/reference, computed with R 4.2.2 (sources in the files); here they go in as stints.
import { expect, test } from "vitest"
import { z } from "zod"
import { AnswerJson } from "../../../shared/answer.ts"
import { loadCase, number, numbers } from "../../reference/case.ts"
import { compared } from "./compared.ts"
import { overTrips, type StintRecord, type StrikeRecord } from "./factsOf.ts"

const shanks = { outcome: "landed_rate", by: "hook_shank" } as const
const ends = z.tuple([number, number])
// The expected values are printed to 15 digits and both sides use double precision quantiles.
const digits = 9

test("a level's raw rate is the effective-count gamma interval over trips", () => {
  const { inputs, expected } = loadCase(
    "stats/17-raw-rate-gamma.json",
    z.object({ cases: z.object({ usual: z.object({ y: numbers, h: numbers }) }) }),
    z.object({ cases: z.object({ usual: z.object({ estimate: number, interval: ends }) }) }),
  )
  const { y, h } = inputs.cases.usual
  const answer = compared(
    [...y].map((fish, i) => ({ trip: `${i}`, fish, hours: h[i] ?? 0, factors: { hook_shank: "long" } })),
    shanks,
  )
  const [level] = answer.levels
  const { estimate, interval } = expected.cases.usual
  expect(level?.raw.estimate).toBeCloseTo(estimate, digits)
  expect(level?.raw.low).toBeCloseTo(interval[0], digits)
  expect(level?.raw.high).toBeCloseTo(interval[1], digits)
  expect(level?.naive?.low).toBeGreaterThan(interval[0])
  expect(level?.naive?.high).toBeLessThan(interval[1])
  expect(level?.method).toBe("effective-count gamma interval, trips as clusters")
})

test("a raw ratio is the later level over the earlier, by the delete-one-trip jackknife", () => {
  const arms = z.object({ ya: numbers, ha: numbers, yb: numbers, hb: numbers })
  const { inputs, expected } = loadCase(
    "stats/17-raw-ratio.json",
    z.object({ cases: z.object({ with_trip_holding_neither: arms }) }),
    z.object({ cases: z.object({ with_trip_holding_neither: z.object({ ratio: number, interval: ends }) }) }),
  )
  const { ya, ha, yb, hb } = inputs.cases.with_trip_holding_neither
  const arm = (hook_shank: string, y: Float64Array, h: Float64Array): StintRecord[] =>
    [...y].flatMap((fish, i) =>
      (h[i] ?? 0) > 0 ? [{ trip: `${i}`, fish, hours: h[i] ?? 0, factors: { hook_shank } }] : [],
    )
  const answer = compared([...arm("long", ya, ha), ...arm("short", yb, hb)], shanks)
  const [contrast] = answer.contrasts
  const { ratio, interval } = expected.cases.with_trip_holding_neither
  expect(contrast).toMatchObject({ a: "long", b: "short", basis: "raw", q: contrast?.p })
  expect(contrast?.ratio).toBeCloseTo(ratio, digits)
  expect(contrast?.low).toBeCloseTo(interval[0], digits)
  expect(contrast?.high).toBeCloseTo(interval[1], digits)
})

test("a level's share is Clopper-Pearson at effective counts over trips", () => {
  const { inputs, expected } = loadCase(
    "stats/17-share-effective.json",
    z.object({ cases: z.object({ usual: z.object({ x: numbers, n: numbers }) }) }),
    z.object({ cases: z.object({ usual: z.object({ estimate: number, interval: ends }) }) }),
  )
  const { x, n } = inputs.cases.usual
  const strikes = (hooked: number, all: number): StrikeRecord[] =>
    Array.from({ length: all }, (_, k) => ({ fate: k < hooked ? "lost" : "missed" }))
  const answer = compared(
    [...x].map((hooked, i) => ({
      trip: `${i}`,
      strikes: strikes(hooked, n[i] ?? 0),
      factors: { hook_shank: "long" },
    })),
    { outcome: "hook_up_share", by: "hook_shank" },
  )
  const [level] = answer.levels
  const { estimate, interval } = expected.cases.usual
  expect(level).toMatchObject({ events: 21, trials: 34, naive: null })
  expect(level?.raw.estimate).toBeCloseTo(estimate, digits)
  expect(level?.raw.low).toBeCloseTo(interval[0], digits)
  expect(level?.raw.high).toBeCloseTo(interval[1], digits)
})

const evenly = (lure_class: string, trips: number, hours = 2) =>
  overTrips("trip", trips, (i) => ({ fish: i % 3, hours, factors: { lure_class } }))

test("the answer for programs has exactly the contract's fields, and ours after them", () => {
  const answer = compared([...evenly("jig", 6), ...evenly("cork", 5)], {
    outcome: "landed_rate",
    by: "lure_class",
    basis: "raw",
  })
  const json = AnswerJson.parse(answer)
  expect(Object.keys(json)).toEqual([
    "outcome",
    "by",
    "unit",
    "species",
    "refused",
    "data",
    "levels",
    "contrasts",
    "headline",
    "interaction",
    "curve",
    "model",
    "influence",
    "needed",
    "cautions",
    "sentence",
    "planned",
    "settle",
    "overlap",
  ])
  expect(Object.keys(json.levels[0] ?? {})).toEqual([
    "level",
    "trips",
    "stints",
    "rod_hours",
    "events",
    "trials",
    "raw",
    "adjusted",
    "typical",
  ])
  expect(Object.keys(json.contrasts[0] ?? {})).toEqual(["a", "b", "basis", "ratio", "low", "high", "p", "q"])
  expect(json).toMatchObject({
    unit: "fish per rod-hour",
    species: null,
    headline: { basis: "raw" },
    interaction: null,
    curve: null,
    model: null,
  })
})

test("trips, stops and rod-hours behind an answer are counted once", () => {
  const answer = compared(
    [
      { trip: "a", stop: 1, hours: 1, factors: { lure_class: "jig" } },
      { trip: "a", stop: 1, hours: 2, factors: { lure_class: "cork" } },
      { trip: "b", stop: 2, hours: 3, factors: { lure_class: "jig" } },
    ],
    { outcome: "landed_rate", by: "lure_class" },
  )
  expect(answer.data).toMatchObject({ trips: 2, stops: 2, stints: 3, rod_hours: 6, events: 0, trials: null })
  expect(answer.levels.map(({ level, trips, stints }) => ({ level, trips, stints }))).toEqual([
    { level: "jig", trips: 2, stints: 2 },
    { level: "cork", trips: 1, stints: 1 },
  ])
})

test("a level without fish has an upper limit, and its ratios an end", () => {
  const answer = compared(
    [...evenly("jig", 8), ...overTrips("trip", 8, () => ({ fish: 0, factors: { lure_class: "spoon" } }))],
    { outcome: "landed_rate", by: "lure_class" },
  )
  const spoon = answer.levels.find(({ level }) => level === "spoon")
  expect(spoon?.raw).toMatchObject({ estimate: 0, low: 0 })
  // -log(.025)/8 hours is the exact Poisson limit (Garwood 1936) that trips can only widen.
  expect(spoon?.raw.high).toBeGreaterThanOrEqual(-Math.log(0.025) / 8 - 1e-9)
  expect(answer.contrasts[0]).toMatchObject({ a: "spoon", b: "jig", ratio: 0, low: 0 })
  expect(answer.contrasts[0]?.high).toBeGreaterThan(0)
})

test("against a level without fish the ratio is unbounded, and null", () => {
  const answer = compared(
    [
      ...overTrips("trip", 8, () => ({ fish: 0, hours: 2, factors: { lure_class: "spoon" } })),
      ...overTrips("trip", 8, () => ({ fish: 1, hours: 1, factors: { lure_class: "jig" } })),
    ],
    { outcome: "landed_rate", by: "lure_class" },
  )
  expect(answer.contrasts[0]).toMatchObject({ a: "jig", b: "spoon", ratio: null, high: null })
  expect(answer.contrasts[0]?.low).toBeGreaterThan(0)
})

test("one trip is answered without contrasts' intervals", () => {
  const answer = compared(
    [
      { trip: "a", fish: 3, hours: 2, factors: { lure_class: "jig" } },
      { trip: "a", fish: 1, factors: { lure_class: "cork" } },
    ],
    { outcome: "landed_rate", by: "lure_class" },
  )
  expect(answer.refused).toBeNull()
  expect(answer.levels[0]?.raw).toMatchObject({ estimate: 1.5, high: null })
  expect(answer.contrasts[0]).toMatchObject({ ratio: 1 / 1.5, low: null, high: null, p: null, q: null })
  expect(answer).toMatchObject({ influence: null, needed: null })
  expect(answer.sentence).toMatch(/^Cannot tell: /)
})

test("up to twelve levels are compared in pairs, later over earlier; more each against the others", () => {
  const letters = "abcdefghijklm".split("")
  const levels = (n: number) => letters.slice(0, n).flatMap((name, i) => evenly(name, 4, 20 - i))
  const ask = { outcome: "landed_rate", by: "lure_class", basis: "raw" } as const
  const twelve = compared(levels(12), ask)
  expect(twelve.contrasts).toHaveLength(66)
  expect(twelve.contrasts.every(({ a, b }) => letters.indexOf(a) > letters.indexOf(b))).toBe(true)
  const thirteen = compared(levels(13), ask)
  expect(thirteen.contrasts.map(({ a }) => a)).toEqual(letters)
  expect(thirteen.contrasts.every(({ b }) => b === "others")).toBe(true)
  const [first] = thirteen.levels
  const others = thirteen.levels.slice(1)
  const rate = (of: typeof others) =>
    of.reduce((sum, { events }) => sum + events, 0) / of.reduce((sum, { rod_hours }) => sum + rod_hours, 0)
  expect(thirteen.contrasts[0]?.ratio).toBeCloseTo((first?.raw.estimate ?? 0) / rate(others), 12)
})

test("q is Benjamini-Hochberg over the pairs", () => {
  const answer = compared([...evenly("jig", 9), ...evenly("cork", 8, 3), ...evenly("walker", 7, 9)], {
    outcome: "landed_rate",
    by: "lure_class",
  })
  const bases = new Set(answer.contrasts.map(({ basis }) => basis))
  expect(bases).toEqual(new Set(["raw", "adjusted"]))
  for (const basis of bases) isOverPairs(answer.contrasts.filter((contrast) => contrast.basis === basis))
})

function isOverPairs(contrasts: AnswerJson["contrasts"]): void {
  const byP = contrasts.toSorted((x, y) => (x.p ?? 1) - (y.p ?? 1))
  // Benjamini & Hochberg (1995): the smallest of p (n / rank) over this and all larger p.
  const q = byP.map((_, i) => Math.min(...byP.slice(i).map(({ p }, k) => ((p ?? 1) * 3) / (i + k + 1))))
  byP.forEach((contrast, i) => expect(contrast?.q).toBeCloseTo(q[i] ?? Number.NaN, 12))
}

test("influence names the trip whose removal changes a level most, and by what factor", () => {
  const quiet = overTrips("quiet", 11, () => ({ fish: 1, hours: 2, factors: { lure_class: "jig" } }))
  const answer = compared(
    [...quiet, { trip: "red-letter day", fish: 22, hours: 2, factors: { lure_class: "jig" } }],
    {
      outcome: "landed_rate",
      by: "lure_class",
    },
  )
  expect(answer.influence?.trip).toBe("red-letter day")
  expect(answer.influence?.trip_id).toBe("id of red-letter day")
  expect(answer.influence?.change).toBeCloseTo(11 / 22 / (33 / 24), 12)
})

test("the chance of a fish in a rod-hour lies in 0 to 1, and its ratio is one of hourly rates", () => {
  // Stints of one hour: the maximum-likelihood chance is the part of stints with a fish.
  const stints = [
    ...overTrips("trip", 12, (i) => ({
      fish: i % 2 === 0 ? 3 : 0,
      hours: 1,
      factors: { hook_shank: "short" },
    })),
    ...overTrips("trip", 12, (i) => ({
      fish: i % 4 === 0 ? 1 : 0,
      hours: 1,
      factors: { hook_shank: "long" },
    })),
  ]
  const answer = compared(stints, { outcome: "any_fish", by: "hook_shank" })
  const [short, long] = answer.levels
  expect(short?.raw.estimate).toBeCloseTo(6 / 12, 6)
  expect(long?.raw.estimate).toBeCloseTo(3 / 12, 6)
  expect(long?.raw.high).toBeLessThanOrEqual(1)
  expect(answer.contrasts[0]?.ratio).toBeCloseTo(Math.log(1 - 3 / 12) / Math.log(1 - 6 / 12), 6)
})

test("a level without fish bounds the ratio of chances as it bounds a ratio of counts", () => {
  const stints = [
    ...evenly("jig", 12),
    ...overTrips("trip", 12, () => ({ fish: 0, hours: 1, factors: { lure_class: "spoon" } })),
  ]
  const [contrast] = compared(stints, { outcome: "any_fish", by: "lure_class" }).contrasts
  if (contrast === undefined) throw new Error("no contrast")
  expect([contrast.a, contrast.ratio, contrast.low]).toEqual(["spoon", 0, 0])
  // With n stints with fish in equal hours the limit of a lone zero is a few over n: a Poisson zero stops at 3.7 events.
  expect(contrast.high).toBeGreaterThan(0)
  expect(contrast.high).toBeLessThan(3)
})

test("hours needed are those of the two levels fished most, for a difference of a third", () => {
  const answer = compared([...evenly("jig", 12), ...evenly("cork", 12, 3), ...evenly("spoon", 3, 1)], {
    outcome: "landed_rate",
    by: "lure_class",
  })
  expect(answer.needed?.ratio).toBe(4 / 3)
  expect(answer.needed?.rod_hours).toBeGreaterThan(0)
  const perHour = (answer.needed?.rod_hours ?? 0) / (12 * 2 + 12 * 3)
  expect(answer.needed?.trips).toBe(Math.ceil(perHour * 12))
})

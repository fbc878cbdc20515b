// What stands beside a comparison: the same on planned changes only, what would settle it fastest, where the two met.
import { expect, test } from "vitest"
import { requiredError } from "../../../core/stats/planning/hoursNeeded.ts"
import { normal, poisson, stream } from "../../../core/stats/random.ts"
import { codesOf, compared } from "./compared.ts"
import { overTrips, type StintRecord } from "./factsOf.ts"

const asked = { outcome: "landed_rate", by: "lure_class" } as const

/** On each trip the jig is fished twice, then, changed because nothing bit, the spoon once, and by plan once more. */
const changing = (trips: number, reasons: boolean): StintRecord[] =>
  Array.from({ length: trips }, (_, t) => {
    const stint = (
      lure_class: string,
      start: number,
      fish: number,
      why?: "planned" | "slow",
    ): StintRecord => ({
      trip: `trip ${t}`,
      stop: t,
      start: 1440 * t + start,
      hours: 0.5,
      fish,
      factors: { lure_class },
      ...(reasons && why !== undefined ? { why_changed: why } : {}),
    })
    return [
      stint("jig", 0, 1 + (t % 2), "planned"),
      stint("spoon", 40, t % 2, "planned"),
      stint("jig", 80, 1, "slow"),
      stint("spoon", 120, 2 + (t % 3)),
    ]
  }).flat()

test("a rerun on planned changes keeps what came up by plan, and says so", () => {
  const answer = compared(changing(12, true), asked)
  // the first stint of a trip, and the two after a planned change: three of four
  expect(answer.planned).toMatchObject({ noted: 36, stints: 36, of_stints: 48 })
  const planned = compared(
    changing(12, true).filter(({ start }) => (start ?? 0) % 1440 < 120),
    asked,
  )
  const same = planned.contrasts.find(({ basis }) => basis === answer.planned?.basis)
  expect(answer.planned?.ratio).toBeCloseTo(same?.ratio ?? NaN, 9)
  expect([answer.planned?.low, answer.planned?.high]).toEqual([same?.low, same?.high])
  const whole = answer.contrasts.find(({ basis }) => basis === answer.planned?.basis)
  expect(answer.planned?.ratio).not.toBeCloseTo(whole?.ratio ?? NaN, 1)
  expect(answer.planned?.sentence).toMatch(
    /^Only on the 36 of 48 stints that came up by plan .*36 reasons noted/,
  )
  expect(answer.cautions.find(({ code }) => code === "planned_changes")?.text).toBe(answer.planned?.sentence)
})

test("too few reasons are counted and called too few, and none at all say nothing", () => {
  const few = compared(changing(2, true), asked)
  expect(few.planned).toMatchObject({ noted: 6, basis: null, ratio: null })
  expect(few.planned?.sentence).toContain("6 reasons for a change are noted")
  expect(few.planned?.sentence).toContain("too few")
  const none = compared(changing(12, false), asked)
  expect(none.planned).toBeNull()
  expect(codesOf(none)).not.toContain("planned_changes")
})

test("two anglers' stints follow each their own", () => {
  const [first, second] = ["Nell", "Bram"].map((angler, k) =>
    changing(12, true).map((own) => ({
      ...own,
      start: (own.start ?? 0) + 10 * k,
      factors: { ...own.factors, angler },
    })),
  )
  const answer = compared([...(first ?? []), ...(second ?? [])], asked)
  expect(answer.planned).toMatchObject({ stints: 72, of_stints: 96 })
})

/** One lure a trip on days that differ much, fish that come alone. */
const apart = (trips: number, seed: number, stintsAStop = 2): StintRecord[] => {
  const random = stream(seed, "apart")
  return Array.from({ length: trips }, (_, t) => {
    const day = Math.exp(1.2 * normal(random))
    return Array.from({ length: 4 }, (__, k) => ({
      trip: `trip ${t}`,
      stop: 4 * t + Math.floor(k / stintsAStop),
      hours: 1,
      fish: poisson(random, day),
      factors: { lure_class: t % 2 === 0 ? "jig" : "cork" },
    }))
  }).flat()
}

test("where days differ, both lures on every trip settle it far sooner than a lure a trip", () => {
  const answer = compared(apart(40, 3), asked)
  const of = (design: string) => answer.settle?.designs.find((own) => own.design === design)
  expect(answer.settle?.designs.map(({ design }) => design).toSorted()).toEqual([
    "as_now",
    "same_stop",
    "same_trip",
  ])
  expect(of("as_now")?.rod_hours).toBeCloseTo(answer.needed?.rod_hours ?? NaN, 9)
  expect(of("same_trip")?.rod_hours).toBeLessThan((of("as_now")?.rod_hours ?? 0) / 4)
  expect(answer.settle?.sentence).toMatch(/fastest both (on every trip|at the same stop)/)
  const hours = answer.settle?.designs.map(({ rod_hours }) => rod_hours) ?? []
  expect(hours).toEqual(hours.toSorted((x, y) => x - y))
})

test("where no stop holds two stints, nothing shows how stops differ", () => {
  const designs = compared(apart(40, 3, 1), asked).settle?.designs.map(({ design }) => design)
  expect(designs).toEqual(["same_trip", "as_now"])
})

// Fish that come alone at one rate: the variance of a log ratio is one over each side's fish (Poisson), whatever the design.
test("without spread the hours are those of two Poisson counts less what is in hand", () => {
  const stints = Array.from({ length: 60 }, (_, t) =>
    ["jig", "cork"].map((lure_class, k) => ({
      trip: `trip ${t}`,
      stop: t,
      hours: 2,
      fish: (t + k) % 2,
      factors: { lure_class },
    })),
  ).flat()
  const answer = compared(stints, asked)
  const found = answer.settle?.designs.find(({ design }) => design === "same_trip")
  const led = answer.contrasts.find(({ basis }) => basis === answer.headline.basis)
  expect(led?.low).not.toBeNull()
  // of 60 trips, 30 fish each in 120 hours: a trip adds 1/V, V = 1/0.5 + 1/(0.5 * 4/3)
  const variance = 2 + 1.5
  const whole = requiredError(4 / 3) ** -2 * variance
  expect(found?.trips).toBeLessThanOrEqual(Math.ceil(whole))
  expect(found?.trips).toBeGreaterThan(whole - 2 * 60)
  expect(found?.rod_hours).toBe(4 * (found?.trips ?? NaN))
})

test("a difference of one's own choice is honoured", () => {
  const [third, double] = [undefined, 2].map((worth) => compared(apart(40, 3), { ...asked, worth }))
  expect(double?.needed?.ratio).toBe(2)
  expect(double?.needed?.rod_hours).toBeLessThan((third?.needed?.rod_hours ?? 0) / 3)
  expect(double?.settle?.sentence).toContain("2.0 times")
})

test("where the two met: the biggest mismatch of their effort first", () => {
  const stints = [
    ...overTrips("trip", 20, (i) => ({
      fish: i % 3,
      hours: 1,
      factors: {
        lure_class: "jig",
        light: i % 4 === 0 ? "first light" : "day",
        angler: i % 2 === 0 ? "Nell" : "Bram",
      },
    })),
    ...overTrips("trip", 20, (i) => ({
      fish: (i + 1) % 3,
      hours: 2,
      factors: {
        lure_class: "popper",
        light: i % 4 === 3 ? "day" : "first light",
        angler: i % 2 === 0 ? "Nell" : "Bram",
      },
    })),
  ]
  const { overlap } = compared(stints, { ...asked, given: ["light", "angler"] })
  expect(new Set([overlap?.a, overlap?.b])).toEqual(new Set(["jig", "popper"]))
  const jig = overlap?.a === "jig" ? "a" : "b"
  const popper = jig === "a" ? "b" : "a"
  const first = overlap?.rows[0]
  expect(first?.factor).toBe("light")
  const dawn = overlap?.rows.find(({ level }) => level === "first light")
  expect([dawn?.[jig], dawn?.[popper]]).toEqual([5, 30])
  const nell = overlap?.rows.find(({ level }) => level === "Nell")
  expect([nell?.[jig], nell?.[popper]]).toEqual([10, 20])
  expect(overlap?.rows.map(({ factor }) => factor).slice(0, 2)).toEqual(["light", "light"])
  const unknown = overlap?.rows.find(({ factor, level }) => factor === "light" && level === null)
  expect(unknown).toBeUndefined()
  expect(compared(stints, { ...asked, given: [] }).overlap).toBeNull()
})

test("effort at which what is held alike is not known is told as such", () => {
  const stints = ["jig", "popper"].flatMap((lure_class, k) =>
    overTrips("trip", 20, (i) => ({
      fish: (i + k) % 3,
      factors: { lure_class, ...(i % 5 === k ? {} : { light: i % 2 === 0 ? "day" : "last light" }) },
    })),
  )
  const { overlap } = compared(stints, { ...asked, given: ["light"] })
  const all = overlap?.rows.reduce((sum, { a, b }) => sum + a + b, 0)
  expect(all).toBe(40)
  expect(overlap?.rows.find(({ level }) => level === null)).toMatchObject({ a: 4, b: 4 })
})

test("the bases are read the way the sentence is: with the level first that lands more", () => {
  const thrown = (lure_class: string, fish: number) => (i: number) => ({
    fish: fish + (i % 2),
    stop: i,
    factors: { lure_class },
  })
  for (const [cork, jig, over] of [
    [1, 4, "jig over cork"],
    [4, 1, "cork over jig"],
  ] as const) {
    const answer = compared(
      [...overTrips("trip", 14, thrown("cork", cork)), ...overTrips("trip", 14, thrown("jig", jig))],
      asked,
    )
    expect(answer.ratios_of).toBe(over)
    // 4.5 fish a stint of an hour against 1.5, on every trip and at every stop
    expect(answer.standings.map(({ text }) => /: (\d\.\d) \(/.exec(text)?.[1])).toEqual([
      "3.0",
      "3.0",
      "3.0",
      "3.0",
    ])
    expect(answer.sentence).toContain("3.0 times")
  }
})

import fc from "fast-check"
import { describe, expect, test } from "vitest"
import {
  carried,
  carryRules,
  type CarryRule,
  type Reading,
  type Span,
} from "../../../core/conditions/carry.ts"

const minute = 60_000
const noon = Date.UTC(2024, 4, 11, 12)
const at = (minutes: number): number => noon + minutes * minute

const reading = (given: Partial<Reading>): Reading => ({
  value: 20,
  source: "seen",
  at: null,
  own: false,
  same_stop: null,
  entered_at: 0,
  ...given,
})
/** A stint from noon to half past. */
const stint: Span = { start: noon, end: at(30) }
const nearest: CarryRule = { window: 60, how: "nearest", where: "trip" }
const ofPlace: CarryRule = { ...nearest, where: "stop" }
const linear: CarryRule = { window: 120, how: "interpolated", where: "trip" }

describe("one reading", () => {
  test.each([
    [-60, "carried from 60 min before"],
    [-1.2, "carried from 1 min before"],
    [-0.1, "carried from 1 min before"],
    [0, "seen"],
    [30, "seen"],
    [72, "carried from 42 min after"],
    [90, "carried from 60 min after"],
  ])("%d minutes from the start of a half-hour stint: %s", (minutes, source) => {
    expect(carried([reading({ at: at(minutes) })], stint, nearest)).toEqual({ value: 20, source })
  })

  test.each([-60.1, 90.1])("%d minutes from the start is beyond an hour's window", (minutes) => {
    expect(carried([reading({ at: at(minutes) })], stint, nearest)).toBeNull()
  })

  test.each([
    [-31, "carried from 31 min before"],
    [-30, "instrument"],
    [30, "instrument"],
    [31, "carried from 31 min after"],
  ])(
    "a stint without an end holds what was read within half an hour of its start (%d): %s",
    (minutes, source) => {
      const readings = [reading({ at: at(minutes), source: "instrument" })]
      expect(carried(readings, { start: noon, end: null }, nearest)?.source).toBe(source)
    },
  )

  test("without a clock a stint gets nothing by time, but what holds for its stop and its trip", () => {
    const clockless: Span = { start: null, end: null }
    expect(carried([reading({ at: noon })], clockless, nearest)).toBeNull()
    expect(carried([reading({ same_stop: false })], clockless, nearest)).toBeNull()
    expect(carried([reading({ same_stop: true })], clockless, ofPlace)?.source).toBe("seen")
    expect(carried([reading({})], clockless, ofPlace)?.source).toBe("seen")
  })

  test("what belongs to a place is carried within its stop only, and heard of anywhere while fishing there", () => {
    const before = at(-10)
    expect(carried([reading({ at: before, same_stop: true })], stint, ofPlace)).not.toBeNull()
    expect(carried([reading({ at: before, same_stop: false })], stint, ofPlace)).toBeNull()
    expect(carried([reading({ at: before })], stint, ofPlace)).toBeNull()
    expect(carried([reading({ at: at(10) })], stint, ofPlace)?.source).toBe("seen")
    expect(carried([reading({ at: at(10), same_stop: false })], stint, ofPlace)).toBeNull()
    expect(carried([reading({ at: before, same_stop: false })], stint, nearest)).not.toBeNull()
  })
})

test("how clear the water is holds for the waters around, within its window; depth does not leave its stop", () => {
  const elsewhere = (minutes: number) => [reading({ value: "stained", at: at(minutes), same_stop: false })]
  const ruleOf = (id: string) => carryRules.find((one) => one.id === id)?.rule ?? ofPlace
  for (const id of ["visibility", "water_colour", "secchi_cm"]) {
    expect(carried(elsewhere(-119), stint, ruleOf(id))?.source).toBe("carried from 119 min before")
    expect(carried(elsewhere(-121), stint, ruleOf(id))).toBeNull()
  }
  expect(carried(elsewhere(-10), stint, ruleOf("water_depth_m"))).toBeNull()
})

describe("which of two readings is taken", () => {
  test.each<[string, Partial<Reading>, Partial<Reading>]>([
    ["its own before one taken during it", { own: true }, { at: at(10), same_stop: true }],
    ["the latest of its own", { own: true, at: at(20) }, { own: true, at: at(10) }],
    ["one taken during it before the stop's", { at: at(10) }, { same_stop: true }],
    ["the stop's before one carried", { same_stop: true }, { at: at(-1), same_stop: true }],
    ["one carried before the trip's", { at: at(-50) }, {}],
    ["the nearer in time", { at: at(-20) }, { at: at(-21), same_stop: true }],
    ["the same stop's", { at: at(-20), same_stop: true }, { at: at(-20) }],
    ["one of no stop before another stop's", { at: at(-20) }, { at: at(-20), same_stop: false }],
    ["a person's before a station's", { at: at(-20) }, { at: at(50), source: "imported" }],
    ["the one nearer to the middle", { at: at(12) }, { at: at(5) }],
    ["the later", { at: at(20) }, { at: at(10) }],
    ["the one entered later", { at: at(-5), entered_at: 2 }, { at: at(-5), entered_at: 1 }],
  ])("%s", (_, winner, loser) => {
    const two = [reading({ value: "winner", ...winner }), reading({ value: "loser", ...loser })]
    expect(carried(two, stint, nearest)?.value).toBe("winner")
    expect(carried(two.toReversed(), stint, nearest)?.value).toBe("winner")
  })
})

describe("between readings", () => {
  test("the value in the middle of the stint lies on the straight line between them", () => {
    const readings = [reading({ value: 10, at: at(-45) }), reading({ value: 14, at: at(95) })]
    // The middle is at 15 minutes: 60 of 140 minutes from the first, so 10 + 4 * 60 / 140.
    expect(carried(readings, stint, linear)).toEqual({
      value: 10 + (4 * 60) / 140,
      source: "between readings 45 min before and 65 min after",
    })
  })

  test("a person's reading is never mixed with a station's", () => {
    const readings = [
      reading({ value: 10, at: at(-45) }),
      reading({ value: 14, at: at(95), source: "imported" }),
    ]
    expect(carried(readings, stint, linear)).toEqual({ value: 10, source: "carried from 45 min before" })
  })

  test("with one side out of the window the other is carried as it is", () => {
    const readings = [reading({ value: 10, at: at(-45) }), reading({ value: 14, at: at(151) })]
    expect(carried(readings, stint, linear)?.source).toBe("carried from 45 min before")
  })

  test("words are never interpolated", () => {
    const readings = [reading({ value: "tea", at: at(-45) }), reading({ value: "green", at: at(95) })]
    expect(carried(readings, stint, linear)).toEqual({ value: "tea", source: "carried from 45 min before" })
  })
})

describe("whatever the readings are", () => {
  const anyReading = fc.record<Reading>({
    value: fc.double({ min: -50, max: 50, noNaN: true }),
    source: fc.constantFrom("seen", "instrument", "imported"),
    at: fc.option(fc.integer({ min: -400, max: 400 }).map(at)),
    own: fc.boolean(),
    same_stop: fc.option(fc.boolean()),
    entered_at: fc.nat(3),
  })
  const readings = fc.array(anyReading, { maxLength: 12 })
  const span = fc.oneof(
    fc.constant<Span>({ start: null, end: null }),
    fc.integer({ min: -100, max: 100 }).map((start): Span => ({ start: at(start), end: null })),
    fc
      .tuple(fc.integer({ min: -100, max: 100 }), fc.integer({ min: 1, max: 90 }))
      .map(([start, length]): Span => ({ start: at(start), end: at(start + length) })),
  )
  const rule = fc.constantFrom(...carryRules.map((one) => one.rule))
  const holds = (property: (readings: Reading[], span: Span, rule: CarryRule) => void) =>
    fc.assert(fc.property(readings, span, rule, property), { numRuns: 2000, seed: 11 })

  /** Minutes from the stint to a reading, 0 during it. */
  const gap = ({ at: when }: Reading, { start, end }: Span): number => {
    if (when === null || start === null) return Infinity
    if (end === null && Math.abs(when - start) <= 30 * minute) return 0
    return Math.max(0, start - when, when - (end ?? start)) / minute
  }

  test("their order does not matter", () => {
    fc.assert(
      fc.property(
        readings.chain((some) =>
          fc.tuple(fc.constant(some), fc.shuffledSubarray(some, { minLength: some.length })),
        ),
        span,
        rule,
        ([some, shuffled], when, by) => {
          expect(carried(shuffled, when, by)).toEqual(carried(some, when, by))
        },
      ),
      { numRuns: 2000, seed: 12 },
    )
  })

  test("a reading beyond the window, or of another place where the place matters, changes nothing", () => {
    holds((some, when, by) => {
      const useful = some.filter(
        (one) =>
          one.own ||
          (one.at === null
            ? one.same_stop !== false
            : gap(one, when) <= by.window &&
              (by.where === "trip" ||
                one.same_stop === true ||
                (one.same_stop === null && gap(one, when) === 0))),
      )
      expect(carried(some, when, by)).toEqual(carried(useful, when, by))
      expect(carried(some, when, by) === null).toBe(useful.length === 0)
    })
  })

  test("the stint's own reading is what it gets", () => {
    holds((some, when, by) => {
      const own = some.filter((one) => one.own)
      const result = carried(some, when, by)
      const same = own.some(({ value, source }) => value === result?.value && source === result.source)
      expect(same).toBe(own.length > 0)
    })
  })

  test("a value between readings lies between two of one sort, one on either side", () => {
    let found = 0
    const wrong: unknown[] = []
    holds((any, when) => {
      const some = any.filter((one) => !one.own && one.at !== null)
      const result = carried(some, when, linear)
      if (!result?.source.startsWith("between")) return
      found++
      const timed = some.filter((one) => gap(one, when) <= linear.window)
      const pairs = timed.flatMap((a) =>
        timed.flatMap((b) =>
          Number(a.at) < Number(when.start) &&
          Number(b.at) > Number(when.end ?? when.start) &&
          (a.source === "imported") === (b.source === "imported")
            ? [[Number(a.value), Number(b.value)]]
            : [],
        ),
      )
      const value = Number(result.value)
      // Only rounding is left: values are below 50, so 1e-12 is some hundred units in the last place.
      const within = pairs.some(
        (pair) => Math.min(...pair) - 1e-12 <= value && value <= Math.max(...pair) + 1e-12,
      )
      if (!within) wrong.push({ some, when })
    })
    expect(wrong).toEqual([])
    expect(found).toBeGreaterThan(30)
  })
})

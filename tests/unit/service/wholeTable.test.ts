// The whole path against a second, simpler one: a made-up table is imported and asked about, and every count, effort and
// left-out stint is reckoned again from the table's own rows by a few lines that share no code with the product.
import { uniformInt } from "pure-rand/distribution/uniformInt"
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus"
import { beforeAll, describe, expect, test } from "vitest"
import { Answer } from "../../../shared/answer.ts"
import { Ask } from "../../../shared/questions.ts"
import { answerAsk } from "../../../core/questions/ask.ts"
import { newBook } from "../../../core/service/open.ts"
import { makeService } from "../../../core/service/service.ts"
import type { Logbook } from "../../../core/store/logbook.ts"
import { context, importTables } from "../exchange/importing.ts"
import { mkdtempSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"

type Made = {
  trip: string
  complete: string
  minutes: number
  rods: number | null
  lure: string
  pause: number | null
  temp: number | null
  tide: string | null
  wind: number | null
  strikes: number | null
  hooked: number | null
  landed: number | null
  hangUps: number | null
}

const random = xoroshiro128plus(20_240_511)
const below = (n: number): number => uniformInt(random, 0, n - 1)
const one = <T>(first: T, ...rest: T[]): T => rest[below(rest.length + 1)] ?? first
const unless = <T>(chance: number, value: T): T | null => (below(100) < chance ? null : value)

/** Sixty trips of two to six stints; a tenth or so of everything is unknown. */
function makeStints(): Made[] {
  return Array.from({ length: 60 }, (_, t) => {
    const complete = one("complete", "complete", "", "partial", "catches only")
    const temp = unless(10, 8 + below(22))
    return Array.from({ length: 2 + below(5) }, (): Made => {
      const strikes = one(0, 0, 0, 1, 2, 4)
      const hooked = below(strikes + 1)
      return {
        trip: `T${t}`,
        complete,
        minutes: 10 + below(50),
        rods: unless(25, 1 + below(2)),
        lure: one("jig", "cork", "topwater", "spoon"),
        pause: unless(12, below(12)),
        temp,
        tide: unless(15, one("rising", "falling", "high stand")),
        wind: unless(15, one(0, 44, 45, 180, 359, 360)),
        strikes: unless(20, strikes),
        hooked: unless(10, hooked),
        landed: unless(8, below(hooked + 1)),
        hangUps: unless(20, below(3)),
      }
    })
  }).flat()
}
const stints = makeStints()

const cell = (value: string | number | null): string => (value === null ? "" : String(value))
const table = [
  "trip,date,start,minutes,rods,completeness,lure class,pause_s,water_temp_c,tide_stage,wind_dir_deg,strikes,hook_ups,landed,hang_ups",
  ...stints.map((s, i) => {
    const start = `${String(5 + Math.floor(i / 60)).padStart(2, "0")}:${String(i % 60).padStart(2, "0")}`
    const cells = [
      s.trip,
      "2024-05-11",
      start,
      s.minutes,
      s.rods,
      s.complete,
      s.lure,
      s.pause,
      s.temp,
      s.tide,
      s.wind,
    ]
    return [...cells, s.strikes, s.hooked, s.landed, s.hangUps].map(cell).join(",")
  }),
].join("\n")

/** Counts with the blanks between filled in: no strike means no hook-up, no hook-up no fish. */
function filled({ strikes, hooked, landed }: Made): {
  strikes: number | null
  hooked: number | null
  landed: number | null
} {
  const h = hooked ?? (strikes === 0 ? 0 : strikes !== null && strikes === landed ? strikes : null)
  return { strikes, hooked: h, landed: landed ?? (h === 0 ? 0 : null) }
}

const outcomes = {
  landed_rate: (s: Made) => [filled(s).landed, null],
  strike_rate: (s: Made) => [filled(s).strikes, null],
  hang_up_rate: (s: Made) => [s.hangUps, null],
  hook_up_share: (s: Made) =>
    filled(s).strikes === null ? [null, null] : [filled(s).hooked, filled(s).strikes],
  landing_share: (s: Made) =>
    filled(s).hooked === null ? [null, null] : [filled(s).landed, filled(s).hooked],
} as const

const cut = (value: number | null, ...cuts: [number, number, number]): string | null => {
  if (value === null) return null
  const [a, b, c] = cuts
  return value < a ? `<${a}` : value < b ? `${a}-<${b}` : value < c ? `${b}-<${c}` : `>=${c}`
}
const factors = {
  lure_class: (s: Made) => s.lure,
  tide_stage: (s: Made) => s.tide,
  pause_s: (s: Made) => cut(s.pause, 2, 4, 8),
  water_temp_c: (s: Made) => cut(s.temp, 12, 18, 24),
  wind_dir_deg: (s: Made) => {
    const octant = s.wind === null ? null : Math.floor((s.wind % 360) / 45)
    return octant === null ? null : `${octant * 45}-<${octant * 45 + 45}`
  },
} as const

type Sum = { stints: number; hours: number; events: number; trials: number; trips: Set<string> }

function reckon(outcome: keyof typeof outcomes, by: keyof typeof factors) {
  const levels = new Map<string, Sum>()
  const leftOut: Record<string, number> = {}
  for (const stint of stints) {
    const [events = null, trials = null] = outcomes[outcome](stint)
    const level = factors[by](stint)
    const wholeTripsOnly = outcome.endsWith("rate")
    const reason =
      wholeTripsOnly && !["complete", ""].includes(stint.complete)
        ? "trip_not_complete"
        : events === null
          ? "outcome_not_counted"
          : level === null
            ? "factor_unknown"
            : null
    if (reason !== null) leftOut[reason] = (leftOut[reason] ?? 0) + 1
    if (reason !== null || events === null || level === null) continue
    const sum = levels.get(level) ?? { stints: 0, hours: 0, events: 0, trials: 0, trips: new Set() }
    sum.stints += 1
    sum.hours += (stint.minutes / 60) * (stint.rods ?? 1)
    sum.events += events
    sum.trials += trials ?? 0
    sum.trips.add(stint.trip)
    levels.set(level, sum)
  }
  return { levels, leftOut }
}

describe("a table reckoned twice", () => {
  const folder = mkdtempSync(join(tmpdir(), "stintbook-"))
  let book: Logbook
  let imported = 0
  beforeAll(async () => {
    book = newBook(join(folder, "a.stintbook"))
    const done = await importTables(book, { "stints.csv": table })
    imported = done.creates.stints
    return () => {
      book.close()
      rmSync(folder, { recursive: true })
    }
  })

  test("every row is there", () => {
    expect(imported).toBe(stints.length)
  })

  const combinations = Object.keys(outcomes).flatMap((outcome) =>
    Object.keys(factors).map((by) => [outcome, by] as const),
  )
  test.each(combinations)("%s by %s", async (outcome, by) => {
    const isOutcome = (name: string): name is keyof typeof outcomes => name in outcomes
    const isFactor = (name: string): name is keyof typeof factors => name in factors
    if (!isOutcome(outcome) || !isFactor(by)) throw new Error(`${outcome} by ${by}`)
    const service = makeService(
      book,
      async (facts, ask) => answerAsk(facts, ask),
      () => undefined,
    )
    const answer = Answer.parse(await service["questions.ask"](Ask.parse({ outcome, by }), context))
    const { levels, leftOut } = reckon(outcome, by)
    expect(Object.fromEntries(answer.data.left_out.map(({ reason, stints: n }) => [reason, n]))).toEqual(
      leftOut,
    )
    expect(new Set(answer.levels.map(({ level }) => level))).toEqual(new Set(levels.keys()))
    for (const { level, stints: n, trips, events, trials, rod_hours, raw } of answer.levels) {
      const sum = levels.get(level)
      if (sum === undefined) throw new Error(level)
      expect([level, n, trips, events, trials ?? 0]).toEqual([
        level,
        sum.stints,
        sum.trips.size,
        sum.events,
        sum.trials,
      ])
      expect(rod_hours).toBeCloseTo(sum.hours, 9) // only rounding is left
      expect(raw.estimate).toBeCloseTo(sum.events / (trials === null ? sum.hours : sum.trials), 9)
    }
  })
})

// From a plain table on disk to the numbers of an outside program: the cases 17-raw-rate-gamma and 17-raw-ratio (R 4.2.2,
// data invented for that check; formulas and sources inside the files) are written as stints, one trip after another,
// imported, and asked about by a continuous factor, a measured one and a tide stage that the table itself has.
import { expect, test } from "vitest"
import { z } from "zod"
import { Answer, type Answer as AnswerType } from "../../shared/answer.ts"
import { Ask } from "../../shared/questions.ts"
import { answerAsk } from "../../core/questions/ask.ts"
import { makeService } from "../../core/service/service.ts"
import type { Logbook } from "../../core/store/logbook.ts"
import { context, importTables } from "../unit/exchange/importing.ts"
import { temporaryLogbook } from "../unit/store/temporaryLogbook.ts"
import { loadCase, numbers } from "./case.ts"

const Rate = {
  inputs: z.object({ cases: z.record(z.string(), z.object({ y: numbers, h: numbers })) }),
  expected: z.object({
    cases: z.record(
      z.string(),
      z.object({ trips: z.int(), estimate: z.number(), interval: z.tuple([z.number(), z.number()]) }),
    ),
  }),
}
const Ratio = {
  inputs: z.object({
    cases: z.object({
      with_trip_holding_neither: z.object({ ya: numbers, ha: numbers, yb: numbers, hb: numbers }),
    }),
  }),
  expected: z.object({
    cases: z.object({
      with_trip_holding_neither: z.object({ ratio: z.number(), interval: z.tuple([z.number(), z.number()]) }),
    }),
  }),
}

const ask = async (book: Logbook, by: string, cuts: number[] | null): Promise<AnswerType> => {
  const service = makeService(
    book,
    async (facts, question) => answerAsk(facts, question),
    () => undefined,
  )
  return Answer.parse(
    await service["questions.ask"](Ask.parse({ outcome: "landed_rate", by, cuts }), context),
  )
}

/** The cases whose own spread between trips decides, each put at its own level of three factors. */
const places = [
  { name: "usual", pause_s: 1, water_temp_c: 9.5, tide_stage: "low stand" },
  { name: "deff_floor", pause_s: 3, water_temp_c: 14, tide_stage: "rising" },
  { name: "two_trips", pause_s: 5, water_temp_c: 20, tide_stage: "high stand" },
  { name: "one_fish", pause_s: 8, water_temp_c: 27.2, tide_stage: "falling" },
] as const

const line = (
  trip: string,
  day: number,
  hours: number,
  fish: number,
  cells: readonly (string | number)[],
): string => [trip, `2024-05-${String(day).padStart(2, "0")}`, hours, fish, ...cells].join(",")

test.each([
  ["pause_s", [2, 4, 6], ["<2", "2-<4", "4-<6", ">=6"]],
  ["water_temp_c", null, ["<12", "12-<18", "18-<24", ">=24"]],
  ["tide_stage", null, ["low stand", "rising", "high stand", "falling"]],
] as const)("rates by %s agree with R, interval and all", async (by, cuts, labels) => {
  const { inputs, expected } = loadCase("stats/17-raw-rate-gamma.json", Rate.inputs, Rate.expected)
  const lines = places.flatMap(({ name, ...factors }) => {
    const { y, h } = inputs.cases[name] ?? { y: new Float64Array(), h: new Float64Array() }
    // Each trip's hours are split into two stints, so that trips and not stints are seen to be the sample.
    return [...y].flatMap((fish, i) => [
      line(`${name} ${i}`, i + 1, (h[i] ?? 0) / 4, fish, Object.values(factors)),
      line(`${name} ${i}`, i + 1, ((h[i] ?? 0) * 3) / 4, 0, Object.values(factors)),
    ])
  })
  const book = temporaryLogbook()
  const done = await importTables(book, {
    "stints.csv": ["trip,date,hours,landed,pause_s,water_temp_c,tide_stage", ...lines].join("\n"),
  })
  expect(done.refused).toEqual([])
  const answer = await ask(book, by, cuts === null ? null : [...cuts])
  expect(answer.levels.map(({ level }) => level)).toEqual(labels)
  for (const [i, { name }] of places.entries()) {
    const level = answer.levels[i]
    const known = expected.cases[name]
    if (level === undefined || known === undefined) throw new Error(name)
    expect(level.trips).toBe(known.trips)
    // The case's own tolerance is 1e-9 of the value; the hours went through minutes and back.
    expect(level.raw.estimate).toBeCloseTo(known.estimate, 9)
    expect(Number(level.raw.low) / known.interval[0]).toBeCloseTo(1, 8)
    expect(Number(level.raw.high) / known.interval[1]).toBeCloseTo(1, 8)
  }
})

test("the ratio of two presentations fished on the same trips agrees with R", async () => {
  const { inputs, expected } = loadCase("stats/17-raw-ratio.json", Ratio.inputs, Ratio.expected)
  const { ya, ha, yb, hb } = inputs.cases.with_trip_holding_neither
  const stint = (trip: number, hours: number, fish: number, lure: string): string[] =>
    hours > 0 ? [line(`T${trip}`, trip + 1, hours, fish, [lure])] : []
  const lines = [...ya].flatMap((fish, i) => [
    ...stint(i, ha[i] ?? 0, fish, "jig"),
    ...stint(i, hb[i] ?? 0, yb[i] ?? 0, "spoon"),
  ])
  const book = temporaryLogbook()
  await importTables(book, { "stints.csv": ["trip,date,hours,landed,lure class", ...lines].join("\n") })
  const answer = await ask(book, "lure_class", null)
  const [contrast] = answer.contrasts
  if (contrast === undefined) throw new Error("no contrast")
  const { ratio, interval } = expected.cases.with_trip_holding_neither
  const jigOverSpoon = contrast.a === "jig"
  const known = jigOverSpoon ? [ratio, ...interval] : [1 / ratio, 1 / interval[1], 1 / interval[0]]
  for (const [i, value] of [contrast.ratio, contrast.low, contrast.high].entries())
    expect(Number(value) / (known[i] ?? Number.NaN)).toBeCloseTo(1, 8) // the case's tolerance is 1e-8
})

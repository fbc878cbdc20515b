// Every kind of bad or thin logbook put to every kind of question: an answer of the contract's shape (no NaN, no infinity), and an honest
// sentence or a refusal with its reason, never a stack trace.
import { expect, test } from "vitest"
import { z } from "zod"
import { answerAsk } from "../../../core/questions/ask.ts"
import { Answer, LookThrough } from "../../../shared/answer.ts"
import { Patience } from "../../../shared/patience.ts"
import { bases, outcomes, type Ask } from "../../../shared/questions.ts"
import { Steps } from "../../../shared/steps.ts"
import { askOf, factsOf, overTrips, type StintRecord } from "./factsOf.ts"

const lights = ["first light", "day"]

/** A stint in which something of everything happened. */
const usual = (trip: number, lure: number): StintRecord => ({
  trip: `trip ${trip}`,
  strikes: [
    { fate: "missed" },
    ...((trip + lure) % 3 === 0 ? [] : [{ fate: "landed" as const, length_mm: 350 + 10 * (trip % 9) }]),
  ],
  hang_ups: (trip + lure) % 2,
  hours: 1,
  factors: {
    lure_class: lure === 0 ? "jig" : "cork",
    light: lights[(trip + lure) % 2] ?? "day",
    water_temp_c: 12 + (trip % 7),
    angler: trip % 2 === 0 ? "Nell" : "Tobin",
  },
})
const trips = (
  count: number,
  change: (stint: StintRecord, trip: number, lure: number) => StintRecord = (s) => s,
) =>
  Array.from({ length: count }, (_, trip) =>
    [0, 1].map((lure) => change(usual(trip, lure), trip, lure)),
  ).flat()

const logbooks: Readonly<Record<string, readonly StintRecord[]>> = {
  "no data": [],
  "one trip": trips(1),
  "all blanks": trips(15, (stint) => ({ ...stint, strikes: [], hang_ups: 0 })),
  "one level": trips(15, (stint) => ({ ...stint, factors: { ...stint.factors, lure_class: "jig" } })),
  "one angler": trips(15, (stint) => ({ ...stint, factors: { ...stint.factors, angler: "Nell" } })),
  "all values missing": overTrips("trip", 15, () => ({ hours: 1 })),
  "sixty levels": trips(40, (stint, trip, lure) => ({
    ...stint,
    factors: { ...stint.factors, lure_class: `lure ${(7 * trip + 11 * lure) % 60}` },
  })),
  "a factor equal to another": trips(20, (stint, _, lure) => ({
    ...stint,
    factors: { ...stint.factors, light: lights[lure] ?? "day" },
  })),
  "a huge count": trips(15, (stint, trip, lure) =>
    trip === 7 && lure === 0
      ? {
          ...stint,
          strikes: Array.from({ length: 3000 }, () => ({ fate: "landed" as const, length_mm: 400 })),
        }
      : stint,
  ),
  "a stint of one minute": [...trips(15), { ...usual(3, 1), hours: 1 / 60 }],
}

const questions: readonly (readonly [string, (outcome: Ask["outcome"]) => z.input<typeof Ask>, z.ZodType])[] =
  [
    ...bases.map(
      (basis) =>
        [
          `on the basis ${basis}`,
          (outcome: Ask["outcome"]) => ({ outcome, by: "lure_class", basis }),
          Answer.strict(),
        ] as const,
    ),
    [
      "depending on light",
      (outcome) => ({ outcome, by: "lure_class", depends_on: "light" }),
      Answer.strict(),
    ],
    [
      "by a number, depending on a number",
      (outcome) => ({ outcome, by: "water_temp_c", depends_on: "lure_class" }),
      Answer.strict(),
    ],
    ["with nothing held alike", (outcome) => ({ outcome, by: "lure_class", given: [] }), Answer.strict()],
    ["by all", (outcome) => ({ outcome, by: "all" }), LookThrough.strict()],
    [
      "from look to landed",
      () => ({ question: "steps", outcome: "strike_rate", by: "lure_class" }),
      Steps.strict(),
    ],
    [
      "how long to give a spot",
      () => ({ question: "patience", outcome: "strike_rate", by: "lure_class" }),
      Patience.strict(),
    ],
  ]

const Said = z.object({ sentence: z.string() })
const meaningless = /NaN|Infinity|undefined|null|\[object|\b0\.0 times|-0\b/

test.each(Object.entries(logbooks))("%s", (_, stints) => {
  const facts = factsOf(stints)
  for (const [what, ask, shape] of questions)
    for (const outcome of outcomes) {
      const asked = ask(outcome)
      if (asked.question !== undefined && outcome !== "strike_rate") continue
      const told = answerAsk(facts, askOf(asked))
      expect(shape.safeParse(told).error?.message ?? "", `${outcome} ${what}`).toBe("")
      const said = Said.safeParse(told)
      const sentences = said.success
        ? [said.data.sentence]
        : "factors" in told
          ? told.factors.map(({ sentence }) => sentence)
          : []
      for (const sentence of sentences) {
        expect(sentence, `${outcome} ${what}`).toMatch(/[.?]$/)
        expect(sentence, `${outcome} ${what}`).not.toMatch(meaningless)
      }
    }
})

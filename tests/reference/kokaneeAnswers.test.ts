// Adjusted ratios and intervals of a real creel table, imported as its owner would, beside the same model built and fitted in R 4.2.2
// out of the file itself (kokaneeAnswers/kokanee.R, which says data, model and how to record it anew).
import { readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { z } from "zod"
import type { Answer } from "../../shared/answer.ts"
import { askKokanee, importKokanee } from "./kokaneeBook.ts"
import { RecordedPair } from "./recordedPair.ts"

const pair = RecordedPair.extend({ same_trip: z.number() })
const recorded = z
  .object({
    r: z.string(),
    glmmTMB: z.string(),
    answers: z.array(
      z.object({
        species: z.enum(["all", "kokanee"]),
        season: z.boolean(),
        stints: z.int(),
        days: z.int(),
        df: z.int(),
        log_likelihood: z.number(),
        sd: z.number(),
        theta: z.number(),
        pairs: z.array(pair),
      }),
    ),
  })
  .parse(JSON.parse(readFileSync(new URL("kokaneeAnswers/recorded.json", import.meta.url), "utf8")))

const off = (own: number | null | undefined, other: number): number =>
  Math.abs(Math.log((own ?? NaN) / other))

const on = (answer: Answer, basis: string, { a, b }: z.infer<typeof pair>) =>
  answer.contrasts.find((own) => own.basis === basis && own.a === a && own.b === b)

test.each(recorded.answers)(
  "ratios of gear for $species fish, season held alike $season, are R's",
  async (byR) => {
    const answer = await askKokanee(await importKokanee("day"), {
      outcome: "landed_rate",
      by: "lure_class",
      species: byR.species === "all" ? [] : ["kokanee"],
      given: byR.season ? ["day_of_year"] : [],
    })
    expect([answer.held?.stints, answer.working?.trips, answer.working?.df]).toEqual([
      byR.stints,
      byR.days,
      byR.df,
    ])
    // R's optimisers stop where the likelihood no longer rises by a part in 1e15
    expect(answer.model?.log_likelihood).toBeCloseTo(byR.log_likelihood, 4)
    expect(off(answer.model?.theta, byR.theta)).toBeLessThan(1e-3)
    expect(Math.abs((answer.model?.sd_trip ?? NaN) - byR.sd)).toBeLessThan(1e-3)
    const apart = byR.pairs.flatMap((wanted) => {
      const found = on(answer, "adjusted", wanted)
      const byModel = found?.method.includes("t on trips") === true
      const byJackknife = found?.method.includes("jackknife") === true
      const alike =
        off(found?.ratio, wanted.ratio) < 1e-3 &&
        (!byModel || (off(found.low, wanted.low) < 1e-2 && off(found.high, wanted.high) < 1e-2)) &&
        // the jackknife is shown where it is the wider of the two
        (!byJackknife ||
          Math.log((found.high ?? NaN) / (found.low ?? NaN)) > Math.log(wanted.high / wanted.low))
      return alike
        ? []
        : [`${wanted.a} over ${wanted.b}: ${JSON.stringify(found)}, R ${JSON.stringify(wanted)}`]
    })
    expect(apart).toEqual([])
  },
)

test("within a day the ratios are those of R's Poisson model with an effect a day", async () => {
  const [all] = recorded.answers
  const answer = await askKokanee(await importKokanee("day"), {
    outcome: "landed_rate",
    by: "lure_class",
    given: [],
  })
  const told = (all?.pairs ?? []).filter((wanted) => on(answer, "same_trip", wanted) !== undefined)
  // bait and both were never had on one day
  expect(told.map(({ a, b }) => `${a} ${b}`)).toEqual([
    "Both Lures",
    "Flies Lures",
    "Flies Both",
    "Bait Lures",
    "Bait Flies",
  ])
  for (const wanted of told)
    expect(off(on(answer, "same_trip", wanted)?.ratio, wanted.same_trip)).toBeLessThan(1e-6)
})

// The whole road, from the sample's stints to an answer's ratios, beside the same model built and fitted in R from the same
// stints (sampleAnswers/sample.R: R's own design, quadrature and optimiser; recorded with versions). Regenerate:
// node electron/run.mjs tests/reference/sampleAnswers/writeTable.ts > sample.csv
// Rscript tests/reference/sampleAnswers/sample.R sample.csv > tests/reference/sampleAnswers/recorded.json
import { readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { z } from "zod"
import { answerAsk } from "../../core/questions/ask.ts"
import { isComparison } from "../../shared/answer.ts"
import { askOf } from "../unit/questions/factsOf.ts"
import { fingerprint, sampleFacts, sampleTable } from "./sampleAnswers/sampleTable.ts"
import { RecordedPair } from "./recordedPair.ts"

const recorded = z
  .object({
    r: z.string(),
    glmmTMB: z.string(),
    sha256: z.string(),
    answers: z.array(
      z.object({
        outcome: z.enum(["landed", "strikes"]),
        stints: z.number(),
        trips: z.number(),
        columns: z.number(),
        df: z.number(),
        log_likelihood: z.number(),
        sd: z.number(),
        theta: z.number(),
        pairs: z.array(RecordedPair),
      }),
    ),
  })
  .parse(JSON.parse(readFileSync(new URL("sampleAnswers/recorded.json", import.meta.url), "utf8")))

const facts = await sampleFacts()
const outcomes = { landed: "landed_rate", strikes: "strike_rate" } as const

test("R read the same stints", () => {
  expect(fingerprint(sampleTable(facts))).toBe(recorded.sha256)
})

test.each(recorded.answers)("adjusted ratios and intervals of $outcome are R's", (byR) => {
  const answer = answerAsk(facts, askOf({ outcome: outcomes[byR.outcome], by: "lure_class" }))
  if (!isComparison(answer)) throw new Error("a comparison was asked for")
  expect(answer.held?.used.map(({ factor }) => factor)).toEqual([
    "day_of_year",
    "light",
    "tide_phase_rad",
    "water_temp_c",
    "angler",
    "order_in_stop",
  ])
  expect(answer.held?.stints).toBe(byR.stints)
  // R's optimiser stops where the likelihood no longer rises by a part in 1e15
  expect(answer.model?.log_likelihood).toBeCloseTo(byR.log_likelihood, 3)
  expect(Math.abs(Math.log((answer.model?.sd_trip ?? 0) / byR.sd))).toBeLessThan(1e-3)
  const adjusted = answer.contrasts.filter(({ basis }) => basis === "adjusted")
  expect(adjusted).toHaveLength(byR.pairs.length)
  const apart = adjusted.flatMap(({ a, b, ratio, low, high, method }) => {
    const same = byR.pairs.find((own) => own.a === a && own.b === b)
    const turned = byR.pairs.find((own) => own.a === b && own.b === a)
    const wanted = same ?? (turned === undefined ? undefined : inverse(turned))
    const off = (own: number | null, other: number | undefined) =>
      Math.abs(Math.log((own ?? NaN) / (other ?? NaN)))
    const ratioAlike = off(ratio, wanted?.ratio) < 1e-3
    // where the jackknife is the wider, R's interval by the model must lie within it
    const byModel = method.includes("t on trips")
    const endsAlike = byModel
      ? off(low, wanted?.low) < 1e-2 && off(high, wanted?.high) < 1e-2
      : (low ?? 0) < (wanted?.low ?? 0) * 1.01 && (high ?? Infinity) > (wanted?.high ?? Infinity) * 0.99
    return ratioAlike && endsAlike
      ? []
      : [`${a} over ${b}: ${ratio} (${low} to ${high}), R ${JSON.stringify(wanted)}`]
  })
  expect(apart).toEqual([])
  expect(adjusted.filter(({ method }) => method.includes("t on trips")).length).toBeGreaterThan(3)
})

const inverse = (own: z.infer<typeof RecordedPair>) => ({
  ...own,
  ratio: 1 / own.ratio,
  low: 1 / own.high,
  high: 1 / own.low,
})

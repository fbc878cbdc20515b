// Contrasts of separated shares in clusters, beside base R 4.2.2 (biasReduced/cbpp.R, which says data, model and sources).
import { readFileSync } from "node:fs"
import { expect, test } from "vitest"
import { z } from "zod"
import { NO_EVENT_BOUND, tCritical } from "../../core/stats/confidence.ts"
import { adjustedContrast } from "../../core/stats/inference/adjustedContrast.ts"
import { biasReducedFit, BiasReducedContrasts } from "../../core/stats/inference/biasReduced.ts"
import { jackknifedVariance } from "../../core/stats/inference/clusterDeletion.ts"
import { emptyLevelBound } from "../../core/stats/inference/emptyLevel.ts"
import { fromColumns } from "../../core/stats/matrix/matrix.ts"
import { fitMixed } from "../../core/stats/mixed/fitMixed.ts"
import { Differences } from "./case.ts"

const recorded = z
  .object({
    r: z.string(),
    rows: z.array(z.object({ herd: z.number(), period: z.number(), y: z.number(), m: z.number() })),
    answers: z.array(
      z.object({
        link: z.enum(["logit", "cloglog"]),
        herds: z.number(),
        df: z.number(),
        estimate: z.number(),
        penalised_log_likelihood: z.number(),
        low: z.number(),
        high: z.number(),
        most: z.number(),
        p: z.number(),
        jackknife_se: z.number(),
      }),
    ),
  })
  .parse(JSON.parse(readFileSync(new URL("biasReduced/recorded.json", import.meta.url), "utf8")))

const herds = [...new Set(recorded.rows.map(({ herd }) => herd))]
const indicator = (period: number) =>
  Float64Array.from(recorded.rows, (row) => (row.period === period ? 1 : 0))
const rows = {
  x: fromColumns(
    [new Float64Array(recorded.rows.length).fill(1), indicator(2), indicator(3), indicator(4)],
    recorded.rows.length,
  ),
  y: Float64Array.from(recorded.rows, ({ y }) => y),
  weights: Float64Array.from(recorded.rows, ({ m }) => m),
  cluster: Int32Array.from(recorded.rows, ({ herd }) => herds.indexOf(herd)),
  clusters: herds.length,
}
const fourthOverSecond = Float64Array.of(0, -1, 0, 1)

test.each(recorded.answers)("a contrast with a level without events by the $link link is R's", (byR) => {
  const family = `binomial ${byR.link}` as const
  expect(fitMixed(rows, family).kind).toBe("separated")
  const fit = biasReducedFit(rows, family)
  if (fit.kind === "not fitted") throw new Error("The model was not fitted.")
  const contrasts = new BiasReducedContrasts(rows, fit, family, byR.df)
  const found = contrasts.byLikelihoodRatio(fourthOverSecond)
  // R's numerical optimisers stop at about half of the digits of the likelihood
  const apart = new Differences({ rel: 1e-5, abs: 1e-6 })
  apart.add("penalised log-likelihood", fit.logLik, byR.penalised_log_likelihood)
  apart.add("estimate", (fit.coefficients[3] ?? NaN) - (fit.coefficients[1] ?? NaN), byR.estimate)
  apart.add("low", found.low, byR.low)
  apart.add("high", found.high, byR.high)
  apart.add("p", found.p, byR.p)
  apart.add(
    "most at the cut of a lone zero",
    contrasts.mostAt(fourthOverSecond, Math.max(tCritical(byR.df) ** 2, 2 * NO_EVENT_BOUND)),
    byR.most,
  )
  const everyHerd = herds.map((_, g) => g)
  const refits = contrasts.refits(everyHerd)
  if (refits === null) throw new Error("A herd could not be left out.")
  const se = Math.sqrt(jackknifedVariance(fourthOverSecond, refits, herds.length))
  apart.add("jackknife by refits", se, byR.jackknife_se, { rel: 1e-4, abs: 0 })
  expect(apart.sentences).toEqual([])
  const side = { events: 0, clusters: [] }
  const shown = adjustedContrast(contrasts, fourthOverSecond, [side, { events: 4, clusters: everyHerd }])
  expect(shown.by).toBe("likelihood ratio")
  expect(shown.high).toBeCloseTo(byR.high, 5)
})

test("leaving out a cluster by one step comes near to fitting again where no level is empty", () => {
  const fit = biasReducedFit(rows, "binomial logit")
  if (fit.kind === "not fitted") throw new Error("The model was not fitted.")
  const contrasts = new BiasReducedContrasts(rows, fit, "binomial logit", herds.length - 1)
  const thirdOverSecond = Float64Array.of(0, -1, 1, 0)
  const spread = (changes: ReturnType<typeof contrasts.oneStep>): number =>
    changes === null ? NaN : Math.sqrt(jackknifedVariance(thirdOverSecond, changes, herds.length))
  const [oneStep, refitted] = [spread(contrasts.oneStep()), spread(contrasts.refits(herds.map((_, g) => g)))]
  // with 8 clusters a step is rough; it must be of the right size
  expect(Math.abs(Math.log(oneStep / refitted))).toBeLessThan(0.2)
})

// Clopper & Pearson (1934) Biometrika 26:404-413: the upper 97.5% limit of a share with 0 of n is 1 - 0.025^(1/n).
test("the bound of a share without events, the others known well, is Clopper and Pearson's", () => {
  const [n, many, groups] = [9, 400_000, 40]
  const size = groups + 1
  const y = new Float64Array(size).fill(many / groups / 2)
  const weights = new Float64Array(size).fill(many / groups)
  y[groups] = 0
  weights[groups] = n
  const level = new Float64Array(size)
  level[groups] = 1
  const own = {
    x: fromColumns([new Float64Array(size).fill(1), level], size),
    y,
    weights,
    cluster: Int32Array.from(y.keys()),
    clusters: size,
  }
  const found = emptyLevelBound(own, 1, "binomial logit", { df: 1e6, nodes: 15 })
  // the others' share is one half, but for 1e-3
  expect(1 / (1 + Math.exp(-(found?.bound ?? NaN)))).toBeCloseTo(1 - 0.025 ** (1 / n), 3)
})

// Cases in cases/stats: empirical Bayes by maximum likelihood; sources and tolerances are in the files. Their shrunken values and
// intervals take the fitted law as known: they are rebuilt here from the fit, and the product's own intervals, which allow for
// its being estimated, must be wider. How often those hold the truth is in tests/simulation/shrinkage.test.ts.
import { parse } from "csv-parse/sync"
import { expect, test } from "vitest"
import { z } from "zod"
import { TAIL } from "../../core/stats/confidence.ts"
import { betaQuantile } from "../../core/stats/distributions/betaDistribution.ts"
import { gammaQuantile } from "../../core/stats/distributions/gammaDistribution.ts"
import { fitGammaLaw, shrinkRates } from "../../core/stats/shrinkage/rates.ts"
import { fitBetaLaw, shrinkShares } from "../../core/stats/shrinkage/shares.ts"
import { poissonLogPmf } from "../../core/stats/distributions/poisson.ts"
import { binomialLogPmf } from "../../core/stats/distributions/binomial.ts"
import { difference, loadCase, number, numbers, readCaseFile } from "./case.ts"

/** Central 95% intervals of a gamma and of a beta law. */
const gammaInterval = (shape: number, rate: number) => ({
  low: gammaQuantile(TAIL, shape) / rate,
  high: gammaQuantile(1 - TAIL, shape) / rate,
})
const betaInterval = (a: number, b: number) => ({
  low: betaQuantile(TAIL, a, b),
  high: betaQuantile(1 - TAIL, a, b),
})

const cells = z.object({ count: numbers, exposure: numbers })

test.each(["pumps", "small"])("gamma-Poisson: %s", (name) => {
  const { inputs, expected, tolerance } = loadCase(
    `stats/11-gamma-poisson-${name}.json`,
    cells,
    z.object({
      shape: number,
      rate: number,
      mean: number,
      se_log_shape: number,
      se_log_mean: number,
      log_likelihood: number,
      shrunken: numbers,
      posterior_interval_95: z.array(numbers),
      weight_on_own_data: numbers,
      lr_against_common_rate: number,
    }),
  )
  const agree = (got: number | null | undefined, wanted: number | undefined, what: string): void =>
    expect(difference(got ?? null, wanted ?? NaN, tolerance, what)).toBeNull()
  const { count, exposure } = inputs
  const law = fitGammaLaw(count, exposure)
  if (law === null) throw new Error("There are events, so there must be a law.")
  const rate = law.shape / law.mean
  agree(law.shape, expected.shape, "shape")
  agree(rate, expected.rate, "rate")
  agree(law.mean, expected.mean, "mean")
  agree(law.seLogShape, expected.se_log_shape, "se of log shape")
  agree(law.seLogMean, expected.se_log_mean, "se of log mean")
  agree(law.logLik, expected.log_likelihood, "log-likelihood")
  const pooled = count.reduce((a, b) => a + b) / exposure.reduce((a, b) => a + b)
  const common = count.reduce((sum, y, i) => sum + poissonLogPmf(y, pooled * (exposure[i] ?? NaN)), 0)
  agree(2 * (law.logLik - common), expected.lr_against_common_rate, "likelihood ratio against one rate")
  const shrunk = shrinkRates(count, exposure)
  count.forEach((y, i) => {
    const h = exposure[i] ?? NaN
    agree((y + law.shape) / (h + rate), expected.shrunken[i], `shrunken ${i}`)
    agree(h / (h + rate), expected.weight_on_own_data[i], `weight ${i}`)
    const known = gammaInterval(y + law.shape, h + rate)
    agree(known.low, expected.posterior_interval_95[i]?.[0], `low ${i}`)
    agree(known.high, expected.posterior_interval_95[i]?.[1], `high ${i}`)
    const own = shrunk?.[i]
    expect((own?.high ?? NaN) / (own?.low ?? NaN)).toBeGreaterThan(known.high / known.low)
    expect(own?.low).toBeLessThan(expected.shrunken[i] ?? NaN)
    expect(own?.high).toBeGreaterThan(expected.shrunken[i] ?? NaN)
  })
})

test("gamma-Poisson: cells alike are pooled", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/11-gamma-poisson-boundary.json",
    cells,
    z.object({ shape: number, mean: number, shrunken: numbers, log_likelihood: number }),
  )
  const law = fitGammaLaw(inputs.count, inputs.exposure)
  expect(law?.shape).toBe(expected.shape)
  expect(law?.seLogShape).toBeNull()
  expect(difference(law?.mean ?? NaN, expected.mean, tolerance, "mean")).toBeNull()
  expect(difference(law?.logLik ?? NaN, expected.log_likelihood, tolerance, "log-likelihood")).toBeNull()
  shrinkRates(inputs.count, inputs.exposure)?.forEach(({ low, high }, i) => {
    expect(low).toBeLessThan(expected.shrunken[i] ?? NaN)
    expect(high).toBeGreaterThan(expected.shrunken[i] ?? NaN)
  })
})

test("beta-binomial: litters", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/11-beta-binomial-litters.json",
    z.object({ data: z.string() }),
    z.object({
      a: number,
      b: number,
      mean: number,
      precision: number,
      intra_class_correlation: number,
      se_logit_mean: number,
      se_log_precision: number,
      log_likelihood: number,
      shrunken: numbers,
      posterior_interval_95: z.array(numbers),
      lr_against_common_share: number,
    }),
  )
  const agree = (got: number | null | undefined, wanted: number | undefined, what: string): void =>
    expect(difference(got ?? null, wanted ?? NaN, tolerance, what)).toBeNull()
  const litters = z
    .array(z.object({ x: z.coerce.number(), n: z.coerce.number() }))
    .parse(parse(readCaseFile(`stats/${inputs.data}`), { columns: true }))
  const events = Float64Array.from(litters, ({ x }) => x)
  const trials = Float64Array.from(litters, ({ n }) => n)
  const law = fitBetaLaw(events, trials)
  if (law === null) throw new Error("There are events and others, so there must be a law.")
  const [a, b] = [law.precision * law.mean, law.precision * (1 - law.mean)]
  agree(a, expected.a, "a")
  agree(b, expected.b, "b")
  agree(law.mean, expected.mean, "mean")
  agree(law.precision, expected.precision, "precision")
  agree(1 / (law.precision + 1), expected.intra_class_correlation, "correlation within cells")
  agree(law.seLogitMean, expected.se_logit_mean, "se of logit mean")
  agree(law.seLogPrecision, expected.se_log_precision, "se of log precision")
  agree(law.logLik, expected.log_likelihood, "log-likelihood")
  const pooled = events.reduce((s, v) => s + v) / trials.reduce((s, v) => s + v)
  const common = events.reduce((sum, x, i) => sum + binomialLogPmf(x, trials[i] ?? NaN, pooled), 0)
  agree(2 * (law.logLik - common), expected.lr_against_common_share, "likelihood ratio against one share")
  const shrunk = shrinkShares(events, trials)
  events.forEach((x, i) => {
    const n = trials[i] ?? NaN
    agree((x + a) / (n + law.precision), expected.shrunken[i], `shrunken ${i}`)
    const known = betaInterval(x + a, n - x + b)
    agree(known.low, expected.posterior_interval_95[i]?.[0], `low ${i}`)
    agree(known.high, expected.posterior_interval_95[i]?.[1], `high ${i}`)
    expect(shrunk?.[i]?.low).toBeLessThan(expected.shrunken[i] ?? NaN)
    expect(shrunk?.[i]?.high).toBeGreaterThan(expected.shrunken[i] ?? NaN)
  })
})

test("nothing to shrink towards is said, and impossible cells are refused", () => {
  const [none, some] = [Float64Array.of(0, 0), Float64Array.of(1, 2)]
  expect(fitGammaLaw(none, some)).toBeNull()
  expect(shrinkRates(none, some)).toBeNull()
  expect(fitBetaLaw(none, some)).toBeNull()
  expect(shrinkShares(some, some)).toBeNull()
  expect(() => fitGammaLaw(some, none)).toThrow("1 events in no exposure")
  expect(() => shrinkShares(Float64Array.of(3), Float64Array.of(2))).toThrow("3 events in 2 trials")
  expect(() => shrinkRates(Float64Array.of(NaN), Float64Array.of(2))).toThrow("NaN")
})

import { binomialLogPmf } from "../distributions/binomial.ts"
import { betaLogTails } from "../distributions/incompleteBeta.ts"
import { logBetaTerm } from "../distributions/saddlePoint.ts"
import { sum } from "../sum.ts"
import { requireTotals } from "../ratioOfSums.ts"
import { digamma, logGamma, trigamma } from "../special.ts"
import { type Belief, mixBeliefs, possibleLaws, upperMedian } from "./commonLaw.ts"
import { type Derivatives, FLAT, type Marginal, maximise } from "./marginal.ts"

/** The beta law of the cells' shares that fits best, with parameters precision x mean and precision x (1 - mean). */
export type BetaLaw = {
  readonly mean: number
  /** Infinity where the cells differ no more than counts do by themselves. */
  readonly precision: number
  /** Standard errors of the logit of the mean and the log of the precision; the latter is null where the precision is infinite
   *  or at the end of what is looked at. */
  readonly seLogitMean: number
  readonly seLogPrecision: number | null
  readonly logLik: number
}

/** Maximum-likelihood beta law of shares of which only events in so many trials are known; the counts are then beta-binomial.
 *  `events` and `trials` run over the cells; cells without trials say nothing. Null where no trial, or each, was an event.
 *  RangeError for counts below 0 or not finite, and for more events than trials. Source: Williams (1975) Biometrics 31:949-952. */
export function fitBetaLaw(events: Float64Array, trials: Float64Array): BetaLaw | null {
  const cells = triedCells(events, trials)
  const [all, tried] = [sum(cells.events), sum(cells.trials)]
  if (all === 0 || all === tried) return null
  const pooled = all / tried
  // slope of the likelihood in 1/precision at a common share
  const slope = cells.events.reduce((total, x, i) => {
    const n = cells.trials[i] ?? 0
    return total + (x * (x - 1)) / pooled + ((n - x) * (n - x - 1)) / (1 - pooled) - n * (n - 1)
  }, 0)
  const seOfCommon = 1 / Math.sqrt(tried * pooled * (1 - pooled))
  if (slope <= 0) {
    const logLik = cells.events.reduce(
      (total, x, i) => total + binomialLogPmf(x, cells.trials[i] ?? 0, pooled),
      0,
    )
    return Object.freeze({
      mean: pooled,
      precision: Infinity,
      seLogitMean: seOfCommon,
      seLogPrecision: null,
      logLik,
    })
  }
  const best = maximise(marginalOf(cells), Math.log(pooled / (1 - pooled)))
  return Object.freeze({
    mean: expit(best.location),
    precision: Math.exp(best.logConcentration),
    seLogitMean: best.atBound ? seOfCommon : best.seLocation,
    seLogPrecision: best.atBound ? null : best.seLogConcentration,
    logLik: best.value,
  })
}

export type ShrunkShare = { readonly estimate: number; readonly low: number; readonly high: number }

/** The share of each cell drawn towards what all cells have in common, with a 95% interval that allows for the common law being
 *  estimated too: the mean and the quantiles of the share over all beta laws the data leave possible. Arguments and errors as for fitBetaLaw; a cell without trials gets what is common. Sources as for shrinkRates. */
export function shrinkShares(events: Float64Array, trials: Float64Array): ShrunkShare[] | null {
  const cells = triedCells(events, trials)
  const [all, tried] = [sum(cells.events), sum(cells.trials)]
  if (all === 0 || all === tried) return null
  const start = Math.log(all / (tried - all))
  const laws = possibleLaws(marginalOf(cells), upperMedian(cells.trials), start)
  return Array.from(events, (x, i) => {
    const n = trials[i] ?? 0
    const beliefs = laws.map(({ location, logConcentration }): Belief => {
      const common = parameters(location, logConcentration)
      const [a, b] = [x + common.a, n - x + common.b]
      return {
        mean: a / (a + b),
        tails: (logit) => betaLogTails(a, b, expit(logit), expit(-logit)),
        logDensity: (logit) => logBetaTerm(a, b, expit(logit), expit(-logit)),
      }
    })
    const { mean, low, high } = mixBeliefs(laws, beliefs, (share) => Math.log(share / (1 - share)))
    return Object.freeze({ estimate: mean, low: expit(low), high: expit(high) })
  })
}

type Cells = { events: Float64Array; trials: Float64Array }

function triedCells(events: Float64Array, trials: Float64Array): Cells {
  requireTotals(events, trials)
  const over = events.findIndex((x, i) => x > (trials[i] ?? 0))
  if (over >= 0) throw new RangeError(`A cell cannot hold ${events[over]} events in ${trials[over]} trials.`)
  const tried = (_: number, i: number): boolean => (trials[i] ?? 0) > 0
  return { events: events.filter(tried), trials: trials.filter(tried) }
}

function marginalOf({ events, trials }: Cells): Marginal {
  const constant = events.reduce((total, x, i) => total + logChoose(trials[i] ?? 0, x), 0)
  return {
    value: (logitMean, logPrecision) => {
      const { a, b, precision } = parameters(logitMean, logPrecision)
      const common = logGamma(precision) - logGamma(a) - logGamma(b)
      return events.reduce((total, x, i) => {
        const n = trials[i] ?? 0
        return total + logGamma(x + a) + logGamma(n - x + b) - logGamma(n + precision) + common
      }, constant)
    },
    derivatives: (logitMean, logPrecision) => {
      const { a, b, precision } = parameters(logitMean, logPrecision)
      const mean = a / precision
      const turn = a * (1 - mean) // derivative of a, and minus that of b, by the logit of the mean
      const d: Derivatives = { ...FLAT }
      events.forEach((x, i) => {
        const n = trials[i] ?? 0
        const a1 = digamma(x + a) - digamma(a)
        const b1 = digamma(n - x + b) - digamma(b)
        const n1 = digamma(n + precision) - digamma(precision)
        const a2 = trigamma(x + a) - trigamma(a)
        const b2 = trigamma(n - x + b) - trigamma(b)
        const n2 = trigamma(n + precision) - trigamma(precision)
        const first = a * a1 + b * b1 - precision * n1
        d.l += turn * (a1 - b1)
        d.ll += turn ** 2 * (a2 + b2) + turn * (1 - 2 * mean) * (a1 - b1)
        d.lc += turn * (a1 - b1 + a * a2 - b * b2)
        d.c += first
        d.cc += first + a ** 2 * a2 + b ** 2 * b2 - precision ** 2 * n2
      })
      return d
    },
  }
}

function parameters(logitMean: number, logPrecision: number): { a: number; b: number; precision: number } {
  const precision = Math.exp(logPrecision)
  return { a: precision * expit(logitMean), b: precision * expit(-logitMean), precision }
}

function expit(logit: number): number {
  return 1 / (1 + Math.exp(-logit))
}

function logChoose(n: number, k: number): number {
  return logGamma(n + 1) - logGamma(k + 1) - logGamma(n - k + 1)
}

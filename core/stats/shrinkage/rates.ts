import { gammaLogTails } from "../distributions/incompleteGamma.ts"
import { negativeBinomialLogPmf } from "../distributions/negativeBinomial.ts"
import { poissonLogPmf } from "../distributions/poisson.ts"
import { logPoissonTerm } from "../distributions/saddlePoint.ts"
import { sum } from "../sum.ts"
import { requireTotals } from "../ratioOfSums.ts"
import { digamma, trigamma } from "../special.ts"
import { type Belief, mixBeliefs, possibleLaws, upperMedian } from "./commonLaw.ts"
import { type Derivatives, FLAT, type Marginal, maximise } from "./marginal.ts"

/** The gamma law of the cells' rates that fits best. */
export type GammaLaw = {
  /** Infinity where the cells differ no more than counts do by themselves. */
  readonly shape: number
  readonly mean: number
  /** Standard errors of the logs; that of the shape is null where the shape is infinite or at the end of what is looked at. */
  readonly seLogShape: number | null
  readonly seLogMean: number
  readonly logLik: number
}

/** Maximum-likelihood gamma law of rates of which only counts in so much exposure are known; the counts are then negative
 *  binomial. `count` and `exposure` run over the cells; cells without exposure say nothing. Null without an event. RangeError
 *  for totals that are below 0 or not finite, and for events without exposure. Source: Carlin & Louis (2000) Bayes and Empirical
 *  Bayes Methods for Data Analysis, section 3.3 (from memory). */
export function fitGammaLaw(count: Float64Array, exposure: Float64Array): GammaLaw | null {
  const cells = exposedCells(count, exposure)
  const events = sum(cells.count)
  if (events === 0) return null
  const pooled = events / sum(cells.exposure)
  // slope of the likelihood in 1/shape at a common rate
  const slope = cells.count.reduce(
    (total, y, i) => total + (y - pooled * (cells.exposure[i] ?? 0)) ** 2 - y,
    0,
  )
  if (slope <= 0) {
    const logLik = cells.count.reduce(
      (total, y, i) => total + poissonLogPmf(y, pooled * (cells.exposure[i] ?? 0)),
      0,
    )
    return Object.freeze({
      shape: Infinity,
      mean: pooled,
      seLogShape: null,
      seLogMean: 1 / Math.sqrt(events),
      logLik,
    })
  }
  const best = maximise(marginalOf(cells), Math.log(pooled))
  return Object.freeze({
    shape: Math.exp(best.logConcentration),
    mean: Math.exp(best.location),
    seLogShape: best.atBound ? null : best.seLogConcentration,
    seLogMean: best.atBound ? 1 / Math.sqrt(events) : best.seLocation,
    logLik: best.value,
  })
}

export type ShrunkRate = { readonly estimate: number; readonly low: number; readonly high: number }

/** The rate of each cell drawn towards what all cells have in common, the more so the less the cell itself shows, with a 95%
 *  interval that allows for the common law being estimated too: the mean and the quantiles of the rate over all gamma laws the
 *  data leave possible. Arguments and errors as for fitGammaLaw; a cell without exposure
 *  gets what is common. Sources: Morris (1983) Journal of the American Statistical Association 78:47-55; Christiansen & Morris
 *  (1997) same journal 92:618-632 (both from memory). */
export function shrinkRates(count: Float64Array, exposure: Float64Array): ShrunkRate[] | null {
  const cells = exposedCells(count, exposure)
  const events = sum(cells.count)
  if (events === 0) return null
  const pooled = events / sum(cells.exposure)
  const laws = possibleLaws(marginalOf(cells), pooled * upperMedian(cells.exposure), Math.log(pooled))
  return Array.from(count, (y, i) => {
    const h = exposure[i] ?? 0
    const beliefs = laws.map(({ location, logConcentration }): Belief => {
      const shape = y + Math.exp(logConcentration)
      const rate = h + Math.exp(logConcentration - location)
      return {
        mean: shape / rate,
        tails: (logRate) => gammaLogTails(shape, Math.exp(logRate) * rate),
        logDensity: (logRate) => logPoissonTerm(shape, Math.exp(logRate) * rate) + Math.log(shape),
      }
    })
    const { mean, low, high } = mixBeliefs(laws, beliefs, Math.log)
    return Object.freeze({ estimate: mean, low: Math.exp(low), high: Math.exp(high) })
  })
}

type Cells = { count: Float64Array; exposure: Float64Array }

function exposedCells(count: Float64Array, exposure: Float64Array): Cells {
  requireTotals(count, exposure)
  const empty = count.findIndex((y, i) => y > 0 && exposure[i] === 0)
  if (empty >= 0) throw new RangeError(`A cell cannot hold ${count[empty]} events in no exposure.`)
  const exposed = (_: number, i: number): boolean => (exposure[i] ?? 0) > 0
  return { count: count.filter(exposed), exposure: exposure.filter(exposed) }
}

function marginalOf({ count, exposure }: Cells): Marginal {
  return {
    value: (logMean, logShape) => {
      const [mean, shape] = [Math.exp(logMean), Math.exp(logShape)]
      return count.reduce(
        (total, y, i) => total + negativeBinomialLogPmf(y, shape, mean * (exposure[i] ?? 0)),
        0,
      )
    },
    derivatives: (logMean, logShape) => {
      const [mean, shape] = [Math.exp(logMean), Math.exp(logShape)]
      const d: Derivatives = { ...FLAT }
      const [psi, psi1] = [digamma(shape), trigamma(shape)]
      count.forEach((y, i) => {
        const mu = mean * (exposure[i] ?? 0)
        const both = shape + mu
        const first = digamma(y + shape) - psi - Math.log1p(mu / shape) + (mu - y) / both
        const second = trigamma(y + shape) - psi1 + mu / (shape * both) - (mu - y) / both ** 2
        d.l += ((y - mu) * shape) / both
        d.ll -= (mu * shape * (shape + y)) / both ** 2
        d.lc += ((y - mu) * shape * mu) / both ** 2
        d.c += shape * first
        d.cc += shape * first + shape ** 2 * second
      })
      return d
    },
  }
}

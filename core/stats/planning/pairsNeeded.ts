import { requirePositive, requireNotNegative } from "../arguments.ts"
import { negativeBinomialLogPmf } from "../distributions/negativeBinomial.ts"
import { poissonLogPmf } from "../distributions/poisson.ts"
import { BETS, ENOUGH, logFactor } from "../evidence/coinEvidence.ts"
import { CAP } from "../evidence/pairs.ts"
import { gaussHermite } from "../mixed/gaussHermite.ts"

/** Counts expected in a block of either arm at an ordinary spot, negative binomial with size theta (Infinity: Poisson), and the
 *  log-normal spread between spots. Both blocks of a pair share the spot. */
export type PairPlan = {
  readonly meanA: number
  readonly meanB: number
  readonly theta: number
  readonly sd: number
}

export type PairsNeeded = {
  /** Mean capped difference a - b of a pair. */
  readonly meanDifference: number
  /** By how much the log of each bet's product grows a pair, in the order of BETS. */
  readonly growth: Float64Array
  /** Pairs after which half, and four in five, of such trials have enough evidence; Infinity where none of the bets grows. */
  readonly median: number
  readonly fourInFive: number
}

const NODES = 41
/** Evidence is a mean over bets and its path is ragged: multiples of log 20 / growth, from simulated trials. */
const MEDIAN_FACTOR = 1.15
const FOUR_IN_FIVE_FACTOR = 2.1

/** How many pairs a trial needs if the arms differ as planned: log 20 over the growth a pair of the best bet, times what
 *  simulation adds. RangeError for means or theta that are not above 0. Source: growth of a bet, Kelly (1956) Bell System
 *  Technical Journal 35:917-926 (from memory); the factors are ours, checked in tests/simulation. */
export function pairsNeeded({ meanA, meanB, theta, sd }: PairPlan): PairsNeeded {
  requirePositive("A plan of pairs", "mean", meanA)
  requirePositive("A plan of pairs", "mean", meanB)
  if (!(theta > 0)) throw new RangeError(`A plan of pairs needs theta above 0; it was given ${theta}.`)
  requireNotNegative("A plan of pairs", "sd", sd)
  const growth = new Float64Array(BETS.length)
  let meanDifference = 0
  const { x, logWeight } = gaussHermite(NODES)
  x.forEach((node, q) => {
    const spot = Math.exp(Math.SQRT2 * sd * node)
    const weight = Math.exp((logWeight[q] ?? 0) - 0.5 * Math.log(Math.PI))
    const a = cappedCounts(meanA * spot, theta)
    const b = cappedCounts(meanB * spot, theta)
    a.forEach((pa, countA) => {
      b.forEach((pb, countB) => {
        const probability = weight * pa * pb
        const difference = countA - countB
        meanDifference += probability * difference
        BETS.forEach((bet, k) => {
          growth[k] = (growth[k] ?? 0) + probability * logFactor(bet, difference)
        })
      })
    })
  })
  const best = growth.reduce((most, value) => Math.max(most, value), -Infinity)
  const unit = best > 1e-12 ? Math.log(ENOUGH) / best : Infinity
  return Object.freeze({
    meanDifference,
    growth,
    median: MEDIAN_FACTOR * unit,
    fourInFive: FOUR_IN_FIVE_FACTOR * unit,
  })
}

/** Probabilities of the counts 0 to CAP, the last being all that reach it. */
function cappedCounts(mean: number, theta: number): Float64Array {
  const probabilities = new Float64Array(CAP + 1)
  let below = 0
  for (let k = 0; k < CAP; k++) {
    const log = theta === Infinity ? poissonLogPmf(k, mean) : negativeBinomialLogPmf(k, theta, mean)
    probabilities[k] = Math.exp(log)
    below += probabilities[k] ?? 0
  }
  probabilities[CAP] = Math.max(0, 1 - below)
  return probabilities
}

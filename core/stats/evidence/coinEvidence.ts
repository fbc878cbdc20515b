import { logSumExp } from "../logSumExp.ts"
import { type Pair, cappedDifference } from "./pairs.ts"

/** Bets b, each with a factor 1 + tanh(b d/2) a pair; half of them on either arm. */
export const BETS: readonly number[] = [0.2, -0.2, 0.4, -0.4, 0.6, -0.6, 0.9, -0.9, 1.3, -1.3]

/** Evidence at which a trial has told the arms apart. */
export const ENOUGH = 20

export type CoinEvidence = {
  /** log of the evidence after each pair. */
  readonly logEvidence: Float64Array
  /** min(1, 1 / largest evidence yet) after each pair: a p-value, whenever one stops. */
  readonly anytimeP: Float64Array
}

/** Evidence that grows pair by pair against "no difference", and needs of chance nothing but the coin. With d = a - b cut to
 *  the cap, E = mean over the bets of the product over pairs of 1 + tanh(b d/2). Under no difference the coin makes d as
 *  likely as -d, tanh is odd, so E is a martingale from 1 and reaches 20 in at most 1 of 20 trials however long, whatever the
 *  clumping (Ville 1939). An unfinished block takes, for each bet, the count that makes the factor smallest, which can only
 *  lower E; to drop such pairs would break the promise.
 *
 *  RangeError for a count that is not whole or below 0. Sources: Ville (1939) Étude critique de la notion de collectif; Shafer
 *  (2021) Journal of the Royal Statistical Society A 184:407-431 (both from memory). */
export function coinEvidence(pairs: readonly Pair[]): CoinEvidence {
  const logProducts = new Float64Array(BETS.length)
  const logEvidence = new Float64Array(pairs.length)
  const anytimeP = new Float64Array(pairs.length)
  let smallestP = 1
  pairs.forEach((pair, j) => {
    BETS.forEach((bet, k) => {
      logProducts[k] = (logProducts[k] ?? 0) + logFactor(bet, smallestFor(bet, pair))
    })
    const log = logSumExp(logProducts) - Math.log(BETS.length)
    smallestP = Math.min(smallestP, Math.exp(-log))
    logEvidence[j] = log
    anytimeP[j] = smallestP
  })
  return Object.freeze({ logEvidence, anytimeP })
}

/** log(1 + tanh(b d/2)), written so that it holds where the tanh is -1 to the last digit. */
export function logFactor(bet: number, d: number): number {
  return Math.LN2 - Math.log1p(Math.exp(-bet * d))
}

function smallestFor(bet: number, pair: Pair): number {
  return cappedDifference(pair, bet > 0 ? "smallest" : "largest")
}

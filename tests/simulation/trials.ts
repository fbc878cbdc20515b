import { ENOUGH, coinEvidence } from "../../core/stats/evidence/coinEvidence.ts"
import type { Pair } from "../../core/stats/evidence/pairs.ts"
import { type Random, negativeBinomial, normal, uniform } from "../../core/stats/random.ts"

/** Kinds of trials: pairs of blocks, the first of which is richer whichever arm has it, in spots that differ. */
export type Trials = {
  pairs: number
  /** Mean count of a pair's first block in an ordinary spot, and what share of it the second block has. */
  first: number
  second: number
  /** Spread between spots (log-normal sd) and clumping within a block (negative binomial size). */
  spread: number
  theta: number
  /** How many times as much arm a produces. */
  gain: number
  /** Chance that someone who favours a gives a pair up after a first block that looks bad for it. */
  givingUp: number
}

/** A pair as it would have been had it been fished to its end, and as it was. */
type Drawn = { whole: Pair; kept: Pair; givenUp: boolean }

/** The counts of a pair's blocks are drawn before the coin, so that at gain 1 nothing depends on which arm a block had. */
function drawPair(trials: Trials, random: Random): Drawn {
  const spot = Math.exp(trials.spread * normal(random))
  const aFirst = uniform(random) < 0.5
  const gainOf = (isA: boolean): number => (isA ? trials.gain : 1)
  const early = negativeBinomial(random, trials.first * spot * gainOf(aFirst), trials.theta)
  const late = negativeBinomial(random, trials.first * trials.second * spot * gainOf(!aFirst), trials.theta)
  const looksBad = aFirst ? early === 0 : early >= 1
  const givenUp = uniform(random) < trials.givingUp && looksBad
  const whole = aFirst ? { a: early, b: late } : { a: late, b: early }
  if (!givenUp) return { whole, kept: whole, givenUp }
  return { whole, kept: aFirst ? { a: early, b: null } : { a: null, b: early }, givenUp }
}

export type Crossings = { completed: number; dropped: number; givenUp: number; firstCrossing: number[] }

/** Shares of trials whose evidence ever reaches 20 with pairs given up completed, and with them dropped; the share of pairs given
 *  up; and the pair at which the completed evidence first reached it (Infinity: never). */
export function crossings(trials: Trials, count: number, random: Random): Crossings {
  let [completed, dropped, givenUp] = [0, 0, 0]
  const firstCrossing: number[] = []
  for (let trial = 0; trial < count; trial++) {
    const drawn = Array.from({ length: trials.pairs }, () => drawPair(trials, random))
    const first = reaches(drawn.map(({ kept }) => kept))
    firstCrossing.push(first)
    if (first < Infinity) completed++
    if (reaches(drawn.flatMap((pair) => (pair.givenUp ? [] : [pair.whole]))) < Infinity) dropped++
    givenUp += drawn.filter((pair) => pair.givenUp).length
  }
  return {
    completed: completed / count,
    dropped: dropped / count,
    givenUp: givenUp / (count * trials.pairs),
    firstCrossing,
  }
}

/** The number of pairs after which the evidence first reaches what is enough; Infinity where it never does. */
function reaches(pairs: Pair[]): number {
  const at = coinEvidence(pairs).logEvidence.findIndex((log) => log >= Math.log(ENOUGH))
  return at < 0 ? Infinity : at + 1
}

import { TAIL } from "./confidence.ts"
import { betaQuantile } from "./distributions/betaDistribution.ts"
import { normalQuantile } from "./distributions/normal.ts"

export type Interval = { readonly low: number; readonly high: number }

/** Exact interval of a share of independent trials; `tail` is the probability beyond each end. Counts may be fractions
 *  (effective counts). RangeError unless 0 <= events <= trials, trials above 0. Source: Clopper & Pearson (1934) Biometrika
 *  26:404-413. */
export function clopperPearson(events: number, trials: number, tail = TAIL): Interval {
  requireTrials(events, trials)
  const others = trials - events
  return {
    low: events > 0 ? betaQuantile(tail, events, others + 1) : 0,
    high: others > 0 ? 1 - betaQuantile(tail, others, events + 1) : 1,
  }
}

/** Score interval of a share of independent trials, which covers the nominal probability on average. Arguments as for
 *  clopperPearson. Sources: Wilson (1927) Journal of the American Statistical Association 22:209-212; Newcombe (1998) Statistics
 *  in Medicine 17:857-872. */
export function wilson(events: number, trials: number, tail = TAIL): Interval {
  requireTrials(events, trials)
  const share = events / trials
  const z = -normalQuantile(tail)
  const excess = (z * z) / trials
  const reach = z * Math.sqrt((share * (1 - share)) / trials + excess / (4 * trials))
  return {
    low: events > 0 ? (share + excess / 2 - reach) / (1 + excess) : 0,
    high: events < trials ? (share + excess / 2 + reach) / (1 + excess) : 1,
  }
}

function requireTrials(events: number, trials: number): void {
  if (!(trials > 0 && trials < Infinity && events >= 0 && events <= trials)) {
    throw new RangeError(`A share needs from 0 to all of some trials; it was given ${events} of ${trials}.`)
  }
}

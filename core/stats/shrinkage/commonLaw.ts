import { TAIL } from "../confidence.ts"
import type { LogTails } from "../distributions/logTails.ts"
import { solveIncreasing } from "../distributions/quantileSearch.ts"
import { logSumExp } from "../logSumExp.ts"
import { HIGHEST, LOWEST, type Marginal, bestLocation } from "./marginal.ts"

/** A law the cells may have come from, and how much of the belief it carries. */
export type WeightedLaw = { location: number; logConcentration: number; weight: number }

const STEP = 0.5
/** Locations on either side of the best one, a standard error apart: sums so spaced are exact for a normal shape to 1e-8. */
const REACH = 5
/** A law with less than this share of the belief is left out. */
const LOG_LEAST_WEIGHT = Math.log(1e-6)
/** Concentrations whose log weight lies this far below the best carry nothing that shows. */
const NEGLIGIBLE = 15

/** The laws the data leave possible, with weights that add to 1. A cell of `typicalSize` (expected count, or trials) keeps the
 *  share size/(size + concentration) of its own figure; that share is given an even prior from 0 to 1, so neither pooling nor
 *  its opposite is favoured, and the location a flat one. Sums over a grid of concentrations and, at each, of locations about
 *  the best. Source: Christiansen & Morris (1997) Journal of the American Statistical Association 92:618-632 (from memory). */
export function possibleLaws(marginal: Marginal, typicalSize: number, start: number): WeightedLaw[] {
  const middle = Math.log(typicalSize)
  let location = start
  const profile: { logConcentration: number; location: number; se: number; log: number }[] = []
  for (let logConcentration = LOWEST; logConcentration <= HIGHEST; logConcentration += STEP) {
    const best = bestLocation(marginal, logConcentration, location)
    location = best.location
    const se = 1 / Math.sqrt(best.information)
    // an even share s = size/(size + concentration): density s (1 - s) in the log of the concentration
    const away = Math.abs(logConcentration - middle)
    const prior = -away - 2 * Math.log1p(Math.exp(-away))
    profile.push({
      logConcentration,
      location,
      se,
      log: marginal.value(location, logConcentration) + Math.log(se) + prior,
    })
  }
  const most = profile.reduce((highest, { log }) => Math.max(highest, log), -Infinity)
  const laws = profile
    .filter(({ log }) => log > most - NEGLIGIBLE)
    .flatMap((at) => {
      const base = at.log - marginal.value(at.location, at.logConcentration)
      return Array.from({ length: 2 * REACH + 1 }, (_, k) => {
        const there = at.location + (k - REACH) * at.se
        const log = base + marginal.value(there, at.logConcentration)
        return { location: there, logConcentration: at.logConcentration, log }
      })
    })
  const total = logSumExp(Float64Array.from(laws, ({ log }) => log))
  const kept = laws.filter(({ log }) => log - total > LOG_LEAST_WEIGHT)
  const keptTotal = logSumExp(Float64Array.from(kept, ({ log }) => log))
  return kept.map(({ log, ...law }) => ({ ...law, weight: Math.exp(log - keptTotal) }))
}

/** A cell's belief under one law, on a scale without ends (log of a rate, logit of a share). */
export type Belief = {
  readonly mean: number
  tails(at: number): LogTails
  /** log density on that scale. */
  logDensity(at: number): number
}

/** Mean and central 95% interval of a cell's rate or share over all laws; the ends are on the scale of the beliefs. */
export function mixBeliefs(
  laws: readonly WeightedLaw[],
  beliefs: readonly Belief[],
  start: (mean: number) => number,
): { mean: number; low: number; high: number } {
  const logWeights = Float64Array.from(laws, ({ weight }) => Math.log(weight))
  const mixed = (of: (belief: Belief) => number): number =>
    logSumExp(logWeights.map((log, k) => log + of(beliefs[k] ?? absent())))
  const mean = laws.reduce((sum, { weight }, k) => sum + weight * (beliefs[k]?.mean ?? 0), 0)
  const end = (side: "lower" | "upper"): number =>
    solveIncreasing((at) => {
      const tail = mixed((belief) => belief.tails(at)[side])
      const slope = Math.exp(mixed((belief) => belief.logDensity(at)) - tail)
      return { value: (tail - Math.log(TAIL)) * (side === "lower" ? 1 : -1), slope }
    }, start(mean))
  return { mean, low: end("lower"), high: end("upper") }
}

function absent(): never {
  throw new RangeError("Every law needs a belief.")
}

/** The value in the middle of the sorted ones; of an even number of them the higher of the two. */
export function upperMedian(values: Float64Array): number {
  return values.toSorted()[Math.floor(values.length / 2)] ?? NaN
}

import { type AnyEventUnits, groupUnits, logLikelihood, score, solveTheta } from "./anyEventLikelihood.ts"
import type { PooledDesign } from "./clusterRate.ts"
import { NO_EVENT_BOUND, TAIL, tCritical } from "./confidence.ts"
import { jackknifeVariance } from "./jackknife.ts"
import { type JackknifeRatio, jackknifeRatio, logRatioInterval } from "./logRatioJackknife.ts"

/** A cluster whose removal would move log lambda by no more than this is taken out by one Newton step. The error of the step
 *  is of the order of its square, below a hundredth of what that cluster adds to the standard error. */
const ONE_STEP_REACH = 0.01

export type HourlyFit = {
  units: AnyEventUnits
  /** log lambda: -Infinity where no unit has an event, Infinity where each has. */
  theta: number
  /** theta without cluster g, for every cluster of the numbering; theta itself where the cluster holds no unit. */
  without: Float64Array
  /** 1 where cluster g holds a unit. */
  held: Uint8Array
  clusters: number
  /** Of each unit, as given. */
  exposure: Float64Array
}

/** Maximum-likelihood lambda of P(any event in exposure h) = 1 - exp(-lambda h), and lambda without each cluster. Units:
 *  happened[i] is 1 or 0, exposure[i] above 0, cluster[i] from 0 to clusters - 1; two fits to be compared must number their
 *  clusters alike. Null without units. */
export function fitHourlyChance(
  happened: Uint8Array,
  exposure: Float64Array,
  cluster: Int32Array,
  clusters: number,
): HourlyFit | null {
  if (exposure.length === 0) return null
  const units = groupUnits(happened, exposure, cluster, clusters)
  const held = new Uint8Array(clusters)
  for (const g of cluster) held[g] = 1
  const theta = solveTheta(units, -1)
  return {
    units,
    theta,
    without: leaveOneOutThetas(units, theta, held),
    held,
    clusters: held.reduce((sum, present) => sum + present, 0),
    exposure,
  }
}

function leaveOneOutThetas(units: AnyEventUnits, theta: number, held: Uint8Array): Float64Array {
  const { likelihood, start, blank } = units
  const without = new Float64Array(held.length).fill(theta)
  if (!Number.isFinite(theta)) return without
  const whole = score(units, 0, likelihood.rows, theta)
  const blankTotal = total(blank)
  for (let g = 0; g < held.length; g++) {
    if (held[g] === 0) continue
    const own = score(units, start[g] ?? 0, start[g + 1] ?? 0, theta)
    const step = own.value / (whole.slope - own.slope)
    const holdsAllBlanks = blank[g] === blankTotal
    const oneStep = Math.abs(step) <= ONE_STEP_REACH && !holdsAllBlanks
    without[g] = oneStep ? theta + step : solveTheta(units, g, theta + step)
  }
  return without
}

function total(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0)
}

export type HourlyChance = {
  /** lambda, events per unit of exposure; 1 - exp(-lambda) is the chance of any event in one unit of exposure. */
  rate: number
  low: number
  high: number
  units: number
  withEvent: number
  exposure: number
  clusters: number
  df: number | null
  method: "jackknife" | "likelihood at the effective size"
}

/** Rate lambda with a 95% interval that takes clusters as the sample: delete-one-cluster jackknife of log lambda, t on
 *  clusters - 1.
 *
 *  Where that is not finite or shows no spread, the likelihood L is read at the effective size, L^(1/deff), with the pooled
 *  deff. No event: L = exp(-lambda H), and L^(1/deff) = .025 gives the upper end 3.689 deff/H, as for a rate. An event in
 *  every unit: L = product of 1 - exp(-lambda h_i), and L^(1/deff) = .025 gives the lower end; the rate is then Infinity.
 *  Otherwise (one cluster, or all events or all blanks in one): the lambdas with 2 log(L max/L)/deff <= t^2, t on the clusters
 *  less one, or the pooled ones for one cluster. Ours; the ends at none and all are the exact ones at deff = 1. */
export function hourlyChance(fit: HourlyFit, pooled: PooledDesign): HourlyChance {
  const { units, theta, clusters } = fit
  const withEvent = total(units.events)
  const exposure = total(fit.exposure)
  const found = { rate: Math.exp(theta), units: fit.exposure.length, withEvent, exposure, clusters }
  const jackknife = logRatioInterval(theta, thetasOfHeld(fit))
  if (jackknife !== null) {
    const { low, high, df } = jackknife
    return { ...found, low, high, df, method: "jackknife" }
  }
  const method = "likelihood at the effective size"
  if (withEvent === 0) {
    return { ...found, low: 0, high: (NO_EVENT_BOUND * pooled.deff) / exposure, df: null, method }
  }
  if (withEvent === fit.exposure.length) {
    const cut = pooled.deff * Math.log(TAIL)
    const shortest = fit.exposure.reduce((a, b) => Math.min(a, b))
    const begin = Math.log((1 + Math.log(withEvent)) / shortest)
    const low = Math.exp(fallsToZero((at) => logLikelihood(units, at) - cut, begin, -1))
    return { ...found, low, high: Infinity, df: null, method }
  }
  const df = (clusters < 2 ? pooled.clusters : clusters) - 1
  if (df < 1) return { ...found, low: 0, high: Infinity, df, method }
  const cut = logLikelihood(units, theta) - (pooled.deff * tCritical(df) ** 2) / 2
  const end = (side: -1 | 1): number =>
    Math.exp(fallsToZero((at) => logLikelihood(units, at) - cut, theta, side))
  return { ...found, low: end(-1), high: end(1), df, method }
}

/** Ratio of two levels' lambdas, a over b, by the jackknife of the log ratio over the clusters that hold either. */
export function hourlyChanceRatio(a: HourlyFit, b: HourlyFit): JackknifeRatio {
  const leaveOneOut = a.without.map((theta, g) => theta - (b.without[g] ?? NaN))
  return jackknifeRatio(
    a.theta - b.theta,
    leaveOneOut.filter((_, g) => a.held[g] === 1 || b.held[g] === 1),
  )
}

/** Design effect of lambda over all units of a question, to serve its thin levels: jackknife variance of log lambda times its
 *  information, at least 1; 1 where it cannot be seen. */
export function hourlyDesignEffect(fit: HourlyFit): PooledDesign {
  const { units, theta, clusters } = fit
  const leaveOneOut = thetasOfHeld(fit)
  if (clusters < 2 || !leaveOneOut.every(Number.isFinite)) return { deff: 1, clusters }
  const information = -score(units, 0, units.likelihood.rows, theta).slope
  return { deff: Math.max(1, jackknifeVariance(leaveOneOut) * information), clusters }
}

function thetasOfHeld({ without, held }: HourlyFit): Float64Array {
  return without.filter((_, g) => held[g] === 1)
}

/** Where f, positive at `begin`, first falls to 0 on that side of it; f must keep falling. */
function fallsToZero(f: (at: number) => number, begin: number, side: -1 | 1): number {
  let reach = 0.5
  while (f(begin + side * reach) > 0) reach *= 2
  let [inside, outside] = [reach === 0.5 ? 0 : reach / 2, reach]
  while (outside - inside > 1e-13 * Math.max(1, Math.abs(begin) + outside)) {
    const middle = (inside + outside) / 2
    if (f(begin + side * middle) > 0) inside = middle
    else outside = middle
  }
  return begin + side * outside
}

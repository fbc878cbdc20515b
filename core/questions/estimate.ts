import type { Facts } from "../facts.ts"
import { clusterMean, meanRatio } from "../stats/clusterMean.ts"
import { clusterRate, designEffect } from "../stats/clusterRate.ts"
import { clusterRatio } from "../stats/clusterRatio.ts"
import { clusterShare, shareDesignEffect } from "../stats/clusterShare.ts"
import {
  fitHourlyChance,
  hourlyChance,
  hourlyChanceRatio,
  hourlyDesignEffect,
  type HourlyFit,
} from "../stats/hourlyChance.ts"
import { mostInfluential } from "../stats/leaveOneOut.ts"
import { poissonInterval } from "../stats/poissonInterval.ts"
import { total, type Gathered, type Group } from "./gather.ts"
import type { Measure } from "./outcomes.ts"
import type { OutcomeKind } from "../../shared/outcomes.ts"

/** An estimate with the ends of its 95% interval; null unbounded, or nothing to say. */
export type Ends = {
  readonly estimate: number | null
  readonly low: number | null
  readonly high: number | null
}

export type LevelEstimate = { readonly raw: Ends; readonly naive: Ends | null; readonly method: string }

export type RatioEstimate = {
  readonly ratio: number | null
  readonly low: number | null
  readonly high: number | null
  readonly p: number | null
  readonly df: number | null
  readonly method: string
}

/** The way to estimate one outcome, with trips as the sample; the same for every level of a question. */
export type Estimator = {
  readonly level: (group: Group) => LevelEstimate
  /** Of a over b: of rates, shares, mean lengths or, for the chance of a fish, of the hourly rates behind it. */
  readonly ratio: (a: Group, b: Group) => RatioEstimate
  /** The trip of the question whose removal changes the estimate by the largest factor, and that factor. */
  readonly influence: (group: Group) => { readonly trip: number; readonly change: number } | null
  /** How many times as much trips differ as they would if every event came alone; null for lengths. */
  readonly deff: number | null
}

/** The estimator of an outcome of one kind for the question gathered (its spread serves the thin levels). */
export function estimatorFor(
  kind: OutcomeKind,
  facts: Facts,
  measure: Measure,
  gathered: Gathered,
): Estimator {
  switch (kind) {
    case "rate":
      return rates(gathered)
    case "share":
      return shares(gathered)
    case "length":
      return lengths
    case "chance":
      return chances(facts, measure, gathered)
  }
}

const nothing: Ends = { estimate: null, low: null, high: null }
const noEstimate: LevelEstimate = { raw: nothing, naive: null, method: "none: nothing was counted" }
const finite = (value: number | null): number | null =>
  value !== null && Number.isFinite(value) ? value : null
/** Farther than this on the log scale the end of a ratio's interval says no more than that it is unbounded, as in a profile. */
const farthestLog = 12

/** The end of a ratio's interval from its log; null where it is unbounded. */
export const ratioEnd = (log: number): number | null =>
  Math.abs(log) > farthestLog || Number.isNaN(log) ? null : Math.exp(log)

const withinReach = (end: number | null): number | null =>
  end === null || end === 0 ? end : ratioEnd(Math.log(end))

const ends = (found: { estimate: number; low: number | null; high: number | null }): Ends => ({
  estimate: finite(found.estimate),
  low: finite(found.low),
  high: finite(found.high),
})
const bothLevels = (a: Group, b: Group) => ({ ya: a.events, ha: a.exposure, yb: b.events, hb: b.exposure })
const ratioEnds = (
  found: {
    ratio: number | null
    low: number | null
    high: number | null
    p: number | null
    df: number | null
  },
  method: string,
): RatioEstimate => ({
  ratio: finite(found.ratio),
  low: withinReach(found.low),
  high: withinReach(found.high),
  p: finite(found.p),
  df: found.df,
  method,
})

const jackknifeMethod = "delete-one-trip jackknife of the log ratio, t"
const noRatioMethod = "none: too little to compare"

const byRatioOfSums = (group: Group) => {
  const found = mostInfluential(group.events, group.exposure)
  if (found === null) return null
  return { trip: found.index, change: found.without / (total(group.events) / total(group.exposure)) }
}

const byClusterRatio = (pooled: { deff: number; clusters: number }) => (a: Group, b: Group) => {
  const found = clusterRatio(bothLevels(a, b), pooled)
  const methods = {
    jackknife: jackknifeMethod,
    "effective-count binomial": "conditional binomial at effective counts, trips as clusters",
    none: noRatioMethod,
  }
  return ratioEnds(found, methods[found.method])
}

const pooledSpread = (from: "own" | "pooled"): string =>
  from === "own" ? "trips as clusters" : "the spread between trips of the whole question"

function rates({ all }: Gathered): Estimator {
  const pooled = designEffect(all.events, all.exposure)
  return {
    deff: pooled.deff,
    level: (group) => {
      const found = clusterRate(group.events, group.exposure, pooled)
      if (found === null) return noEstimate
      const name =
        found.method === "effective-count gamma"
          ? "effective-count gamma interval"
          : "exact Poisson upper limit of no events"
      const naive = poissonInterval(found.events, found.exposure)
      return {
        raw: ends(found),
        naive: ends({ estimate: found.estimate, ...naive }),
        method: `${name}, ${pooledSpread(found.deffFrom)}`,
      }
    },
    ratio: byClusterRatio(pooled),
    influence: byRatioOfSums,
  }
}

function shares({ all }: Gathered): Estimator {
  const pooled = shareDesignEffect(all.events, all.exposure)
  return {
    deff: pooled.deff,
    level: (group) => {
      const found = clusterShare(group.events, group.exposure, pooled)
      if (found === null) return noEstimate
      const method = `Clopper-Pearson interval at effective counts, ${pooledSpread(found.deffFrom)}`
      return { raw: ends(found), naive: null, method }
    },
    ratio: byClusterRatio(pooled),
    influence: byRatioOfSums,
  }
}

const lengths: Estimator = {
  deff: null,
  level: (group) => {
    const found = clusterMean(group.events, group.exposure)
    if (found === null) return noEstimate
    return { raw: ends(found), naive: null, method: "mean of the fish, delete-one-trip jackknife, t" }
  },
  ratio: (a, b) => {
    const found = meanRatio(bothLevels(a, b))
    return ratioEnds(found, found.df === null ? noRatioMethod : jackknifeMethod)
  },
  influence: byRatioOfSums,
}

function chances(facts: Facts, measure: Measure, { trips, all }: Gathered): Estimator {
  const position = new Map(trips.map((trip, i) => [trip, i]))
  const fits = new Map<Group, HourlyFit | null>()
  const fitOf = (group: Group): HourlyFit | null => {
    const known = fits.get(group)
    if (known !== undefined) return known
    const { rows } = group
    const fit = fitHourlyChance(
      Uint8Array.from(rows, (stint) => measure.events[stint] ?? 0),
      Float64Array.from(rows, (stint) => measure.exposure[stint] ?? 0),
      Int32Array.from(rows, (stint) => position.get(facts.trip[stint] ?? -1) ?? 0),
      trips.length,
    )
    fits.set(group, fit)
    return fit
  }
  const whole = fitOf(all)
  const pooled = whole === null ? { deff: 1, clusters: 0 } : hourlyDesignEffect(whole)
  const chance = (rate: number) => -Math.expm1(-rate)
  return {
    deff: pooled.deff,
    level: (group) => {
      const fit = fitOf(group)
      if (fit === null) return noEstimate
      const found = hourlyChance(fit, pooled)
      const way =
        found.method === "jackknife"
          ? "delete-one-trip jackknife on the log, t"
          : "likelihood at the effective size, the spread between trips of the whole question"
      return {
        raw: { estimate: chance(found.rate), low: chance(found.low), high: chance(found.high) },
        naive: null,
        method: `1 - exp(-rate) in one rod-hour, ${way}`,
      }
    },
    ratio: (a, b) => {
      const [fitA, fitB] = [fitOf(a), fitOf(b)]
      if (fitA === null || fitB === null)
        return { ratio: null, low: null, high: null, p: null, df: null, method: noRatioMethod }
      const found = hourlyChanceRatio(fitA, fitB)
      if (found.df !== null) return ratioEnds(found, jackknifeMethod)
      if (total(a.events) > 0 && total(b.events) > 0) return ratioEnds(found, noRatioMethod)
      // A level without fish has the same likelihood as in a count; the other's stints with fish are fewer than its fish,
      // so the bound errs wide.
      return byClusterRatio(pooled)(a, b)
    },
    influence: (group) => {
      const fit = fitOf(group)
      if (fit === null || !Number.isFinite(fit.theta) || fit.clusters < 2) return null
      const change = (theta: number) => chance(Math.exp(theta)) / chance(Math.exp(fit.theta))
      let worst: { trip: number; change: number } | null = null
      fit.without.forEach((theta, trip) => {
        if (fit.held[trip] !== 1) return
        const here = { trip, change: change(theta) }
        if (worst === null || Math.abs(Math.log(here.change)) > Math.abs(Math.log(worst.change))) worst = here
      })
      return worst
    },
  }
}

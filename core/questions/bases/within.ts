import { designEffect } from "../../stats/clusterRate.ts"
import { mostMoving } from "../../stats/inference/clusterDeletion.ts"
import { clusteredRowsAt } from "../../stats/likelihood/rows.ts"
import { dot } from "../../stats/matrix/matrix.ts"
import { numbersAt, positionsWhere } from "../../stats/positions.ts"
import { clustersHolding } from "../../stats/strata/clustersHolding.ts"
import { conditionalChanges, conditionalPoisson } from "../../stats/strata/conditionalPoisson.ts"
import { jointlyWithin } from "./jointly.ts"
import { withinContrast } from "../../stats/strata/withinContrast.ts"
import type { FactorId } from "../../../shared/factors.ts"
import { ratioEnd, type RatioEstimate } from "../estimate.ts"
import { stintsOf, type Gathered } from "../gather.ts"
import { chooseHeld, type NotHeld } from "../held/chooseHeld.ts"
import type { Covariate } from "../held/covariate.ts"
import { outcomeOf } from "../outcomes.ts"
import { mostLevelsInPairs } from "../pairs.ts"
import type { Prepared } from "../prepare.ts"
import {
  boundWithin,
  changesOf,
  codeWithin,
  fitWithin,
  hiddenWithin,
  nowhere,
  type BoundWithin,
  type CodedWithin,
  type Fitted,
  type Place,
  type Stratum,
} from "./fitWithin.ts"
import { eventsToSpend } from "./levelsTold.ts"
import { modelRows } from "./modelRows.ts"
import { connected, strataTelling } from "./telling.ts"
import type { WithoutTrip } from "./withoutTrip.ts"

/** What two levels share: trips in which both can be compared within a stratum, and the events of each in such strata. */
export type Shared = { readonly trips: number; readonly eventsA: number; readonly eventsB: number }

export type WithinPair =
  | { readonly kind: "told"; readonly estimate: RatioEstimate; readonly shared: Shared }
  | { readonly kind: "not told"; readonly why: string; readonly shared: Shared | null }

/** Levels compared within trips or stops. */
export type Within = {
  readonly held: readonly Covariate[]
  readonly notHeld: readonly NotHeld[]
  pair(a: string, b: string): WithinPair
  /** A pair one of whose levels had no event where it met the other: the most that it may give. */
  bound(a: string, b: string): WithinPair
  /** p of all levels told together being alike; null where there is no such test. */
  jointly(): number | null
  /** The trip without which the pair's ratio moves most, and what is left without it. */
  withoutWorst(a: string, b: string): WithoutTrip | null
}

/** What may differ between the stints of one trip, and of one stop: what else to hold alike there. */
const varying: Record<Stratum, readonly FactorId[]> = {
  trip: ["light", "tide_phase_rad", "angler", "spot", "order_in_stop"],
  stop: ["light", "angler", "order_in_stop"],
}

/**
 * Levels compared within strata, conditioned on each stratum's total (conditional Poisson, delete-one-trip jackknife), effort
 * as exposure; light, tide, angler, spot and order in the stop held alike where they vary there. Rates only.
 */
export function compareWithin(
  prepared: Prepared,
  by: FactorId,
  gathered: Gathered,
  stratum: Stratum,
): Within | null {
  const { facts, ask } = prepared
  if (outcomeOf(ask.outcome).kind !== "rate") return null
  const stints = stintsOf(gathered).filter((stint) => stratum === "trip" || facts.same_stop[stint] === 1)
  const codes = new Float64Array(facts.stints).fill(Number.NaN)
  gathered.levels.forEach(({ rows }, level) => {
    for (const row of rows) codes[row] = level
  })
  const telling = strataTelling(prepared, modelRows(prepared, stints), codes, stratum)
  const chosen = chooseHeld(
    facts,
    [by],
    ask.given,
    Array.from(telling.rows.stint),
    { events: eventsToSpend(telling.ofLevels), columns: gathered.levels.length - 1 },
    varying[stratum],
  )
  const { rows, ofLevels } = strataTelling(prepared, modelRows(prepared, chosen.rows), codes, stratum)
  const place: Place = { prepared, covariates: chosen.covariates, stratum }
  const many = gathered.levels.length > mostLevelsInPairs
  const labelAt = (level: number) => gathered.levels[level]?.label ?? ""
  const fits = new Map<string, Fitted | string>()
  const coded = new Map<string, CodedWithin>()
  const codedFor = (labels: readonly string[], levelOf: (code: number) => number): CodedWithin =>
    rememberedBy(coded, labels, () => codeWithin(place, rows, codes.map(levelOf), labels))
  const fitFor = (labels: readonly string[], levelOf: (code: number) => number): Fitted | string =>
    rememberedBy(fits, labels, () => fitWithin(place, codedFor(labels, levelOf)))
  const codedFrom = (group: readonly number[]) => {
    const position = new Float64Array(gathered.levels.length).fill(Number.NaN)
    group.forEach((own, at) => (position[own] = at))
    return (code: number) => position[code] ?? Number.NaN
  }
  const weight = (level: number) => gathered.levels[level]?.rodHours ?? 0
  /** The levels that what is held alike does not make up: those fished least are left out until it does not. */
  const toldApart = (group: readonly number[]): readonly number[] => {
    const hides = (some: readonly number[]) =>
      hiddenWithin(place, codedFor(some.map(labelAt), codedFrom(some)))
    if (group.length < 3 || !hides(group)) return group
    const left = group
      .toSorted((x, y) => weight(x) - weight(y))
      .map((level) => group.filter((other) => other !== level))
      .find((some) => !hides(some))
    return left ?? group
  }
  const groups = many
    ? []
    : connected(prepared, ofLevels, codes, gathered.levels.length, stratum).map(toldApart)
  const fittedTo = (a: string, b: string): Fitted | string => {
    const level = gathered.levels.findIndex(({ label }) => label === a)
    const other = gathered.levels.findIndex(({ label }) => label === b)
    if (many) return fitFor([a, "others"], (code) => (Number.isNaN(code) ? code : code === level ? 0 : 1))
    const group = groups.find((own) => own.includes(level))
    if (group === undefined || !group.includes(other)) return nowhere[stratum]
    return fitFor(group.map(labelAt), codedFrom(group))
  }
  const eventsAt = (label: string): number =>
    ofLevels.y.reduce(
      (sum, y, i) => (labelAt(codes[ofLevels.stint[i] ?? -1] ?? -1) === label ? sum + y : sum),
      0,
    )
  return {
    held: chosen.covariates,
    notHeld: chosen.notHeld,
    pair: (a, b) => read(fittedTo(a, b), a, b),
    jointly: () => {
      const [largest] = groups.toSorted((x, y) => y.length - x.length || sumOf(y, weight) - sumOf(x, weight))
      const fitted = largest === undefined ? "" : fitFor(largest.map(labelAt), codedFrom(largest))
      return typeof fitted === "string" ? null : jointlyWithin(fitted)
    },
    bound: (a, b) => {
      const inA = eventsAt(a)
      const inB = many ? ofLevels.y.reduce((sum, y) => sum + y, -inA) : eventsAt(b)
      if ((inA === 0) === (inB === 0)) return { kind: "not told", why: nowhere[stratum], shared: null }
      const [some, none] = inA === 0 ? [b, a] : [a, b]
      const joined = groups.find((group) => group.some((level) => labelAt(level) === some)) ?? []
      const between = joined.map(labelAt).filter((label) => label !== some && label !== none)
      const labels = [some, ...between, none]
      const codeOf = (code: number): number => {
        if (Number.isNaN(code)) return code
        const at = labels.indexOf(labelAt(code))
        return at >= 0 ? at : many ? labels.indexOf("others") : Number.NaN
      }
      const spread = designEffect(gathered.all.events, gathered.all.exposure).deff
      return readBound(boundWithin(place, codedFor(labels, codeOf), spread), inA === 0)
    },
    withoutWorst: (a, b) => {
      const fitted = fittedTo(a, b)
      return typeof fitted === "string" ? null : withoutWorst(fitted, a, b)
    },
  }
}

const sumOf = (group: readonly number[], of: (level: number) => number): number =>
  group.reduce((sum, level) => sum + of(level), 0)

function rememberedBy<Value>(known: Map<string, Value>, labels: readonly string[], find: () => Value): Value {
  const key = JSON.stringify(labels)
  const found = known.get(key) ?? find()
  known.set(key, found)
  return found
}

/** A pair one of whose levels, `a` or else `b`, had no event. */
function readBound(found: BoundWithin | string, emptyIsA: boolean): WithinPair {
  if (typeof found === "string") return { kind: "not told", why: found, shared: null }
  const { high, df, trips, events } = found
  const finite = (value: number): number | null => (Number.isFinite(value) ? value : null)
  const method = "conditional Poisson, profile at the cut that a lone zero deserves, as fish clump"
  const rest = { p: null, df, method }
  return {
    kind: "told",
    shared: { trips, eventsA: emptyIsA ? 0 : events, eventsB: emptyIsA ? events : 0 },
    estimate: emptyIsA
      ? { ratio: 0, low: 0, high: finite(high), ...rest }
      : { ratio: null, low: high === Infinity ? 0 : finite(1 / high), high: null, ...rest },
  }
}

function read(fitted: Fitted | string, a: string, b: string): WithinPair {
  if (typeof fitted === "string") return { kind: "not told", why: fitted, shared: null }
  const { labels, holding, rows, fit, cluster, clusters } = fitted
  const [first, second] = [labels.indexOf(a), labels.indexOf(b)]
  const shared = {
    trips: holding.both(first, second),
    eventsA: holding.eventsIn(first, first, second),
    eventsB: holding.eventsIn(second, first, second),
  }
  const l = contrastOf(fitted, a, b)
  const found = withinContrast(
    rows,
    fit,
    l,
    { a: first, b: second, holding },
    { cluster, clusters },
    changesOf(fitted),
  )
  if (found === null)
    return {
      kind: "not told",
      why: "Fewer than two trips hold both, or they do not differ at all, so nothing shows how much trips differ",
      shared,
    }
  return {
    kind: "told",
    shared,
    estimate: {
      ratio: Math.exp(found.estimate),
      low: ratioEnd(found.low),
      high: ratioEnd(found.high),
      p: found.p,
      df: found.df,
      method: "conditional Poisson, delete-one-trip jackknife, t on trips with both",
    },
  }
}

function contrastOf({ labels, columns, rows }: Fitted, a: string, b: string): Float64Array {
  const l = new Float64Array(rows.x.cols)
  const [at, from] = [a, b].map((label) => columns[labels.indexOf(label)] ?? -1)
  if (at !== undefined && at >= 0) l[at] = 1
  if (from !== undefined && from >= 0) l[from] = -1
  return l
}

function withoutWorst(fitted: Fitted, a: string, b: string): WithoutTrip | null {
  const { rows, fit, cluster, clusters, trips, level, labels } = fitted
  const changes = conditionalChanges(rows, fit.coefficients, cluster, clusters)
  const worst = changes === null ? null : mostMoving(contrastOf(fitted, a, b), changes)
  const trip = worst === null ? undefined : trips[worst.cluster]
  if (worst === null || trip === undefined) return null
  const left = positionsWhere(cluster.length, (i) => cluster[i] !== worst.cluster)
  const again = clusteredRowsAt(rows, left)
  const refitted = conditionalPoisson(again, fit.coefficients)
  const before = Math.exp(dot(contrastOf(fitted, a, b), fit.coefficients))
  if (refitted.kind !== "fit") return { trip, change: Math.exp(worst.change), estimate: null }
  const own = {
    level: numbersAt(level, left),
    y: again.y,
    stratum: again.cluster,
    cluster: numbersAt(cluster, left),
  }
  const without = read(
    {
      labels,
      columns: fitted.columns,
      clusters,
      trips,
      rows: again,
      fit: refitted,
      cluster: own.cluster,
      level: own.level,
      holding: clustersHolding(own),
    },
    a,
    b,
  )
  const estimate = without.kind === "told" ? without.estimate : null
  const after = Math.exp(dot(contrastOf(fitted, a, b), refitted.coefficients))
  return { trip, change: after / before, estimate }
}

import { jackknifedCovariance, jointTest } from "../../stats/inference/jointTest.ts"
import { type Matrix, dot, fromColumns, zeros } from "../../stats/matrix/matrix.ts"
import { total, type Gathered } from "../gather.ts"
import type { Adjusted } from "./adjusted.ts"
import { comparedName } from "./comparedLevels.ts"
import { changesOf, type Fitted } from "./fitWithin.ts"
import { levelsTold } from "./levelsTold.ts"

/** A level on fewer trips that tell of it, or with fewer events, stays out of a joint test, as it may not lead either: the
 *  jackknife knows too little of it. */
const tripsForLevel = 8
const eventsForLevel = 10

/** Contrasts of each of some columns over the first (-1: the reference, which has none). */
function contrastsOver(columns: readonly number[], width: number): Float64Array[] {
  const [first, ...others] = columns
  return others.map((at) => {
    const l = new Float64Array(width)
    if (at >= 0) l[at] = 1
    if (first !== undefined && first >= 0) l[first] = -1
    return l
  })
}

/** p of a fit's levels all being alike within strata, by the jackknife's covariance; null where fewer than two can be tested. */
export function jointlyWithin(fitted: Fitted): number | null {
  const { fit, rows, columns, holding, labels, level } = fitted
  const events = labels.map(() => 0)
  level.forEach((at, i) => {
    events[at] = (events[at] ?? 0) + (rows.y[i] ?? 0)
  })
  const known = labels
    .map((_, at) => at)
    .filter((at) => holding.holding(at) >= tripsForLevel && (events[at] ?? 0) >= eventsForLevel)
  const changes = changesOf(fitted)
  if (known.length < 2 || changes === null) return null
  const contrasts = contrastsOver(
    known.map((at) => columns[at] ?? -1),
    rows.x.cols,
  )
  const values = Float64Array.from(contrasts, (l) => dot(l, fit.coefficients))
  const covariance = jackknifedCovariance(contrasts, changes, holding.informative())
  return jointTest(values, covariance, holding.informative(known) - 1)?.p ?? null
}

/** The same of a model's levels: the larger p of those by the model's covariance and by the jackknife's. */
export function jointlyAdjusted({ model, compared }: Adjusted): number | null {
  const { fit, design, clustered, contrasted, covariates } = model
  const { covariance } = fit
  const changes = contrasted.oneStep()
  const { labels } = compared
  const codes = covariates.values.get(comparedName) ?? []
  const told = levelsTold(model.rows, codes, clustered.cluster, labels.length)
  const known = told.flatMap(({ events, clusters }, at) =>
    clusters.length >= tripsForLevel && events >= eventsForLevel ? [at] : [],
  )
  if (known.length < 2 || covariance === null || changes === null) return null
  const contrasts = contrastsOver(
    known.map((at) => design.names.indexOf(`${comparedName} ${labels[at] ?? ""}`)),
    design.x.cols,
  )
  const values = Float64Array.from(contrasts, (l) => dot(l, fit.coefficients))
  const both = [
    modelled(contrasts, covariance),
    jackknifedCovariance(contrasts, changes, contrasted.clusters),
  ]
  const tests = both.map((one) => jointTest(values, one, contrasted.df)?.p ?? null)
  return tests.some((p) => p === null) ? null : Math.max(...tests.map((p) => p ?? 1))
}

function modelled(contrasts: readonly Float64Array[], covariance: Matrix): Matrix {
  const out = zeros(contrasts.length, contrasts.length)
  contrasts.forEach((a, i) =>
    contrasts.forEach((b, j) => {
      let sum = 0
      a.forEach((x, k) => {
        if (x !== 0) b.forEach((y, l) => (sum += x * y * (covariance.data[k + covariance.rows * l] ?? 0)))
      })
      out.data[i + out.rows * j] = sum
    }),
  )
  return out
}

/** The same of levels as fished, whose estimates are ratios of sums over trips: the delete-one-trip jackknife of their logs. */
export function jointlyAsFished({ levels, trips }: Gathered): number | null {
  const known = levels.filter(
    ({ events }) =>
      events.filter((count) => count > 0).length >= tripsForLevel && total(events) >= eventsForLevel,
  )
  const [first, ...others] = known
  if (first === undefined || others.length === 0) return null
  const logs = known.map(({ events, exposure }) => {
    const [allEvents, allExposure] = [total(events), total(exposure)]
    return {
      whole: Math.log(allEvents / allExposure),
      without: events.map((count, g) => Math.log((allEvents - count) / (allExposure - (exposure[g] ?? 0)))),
    }
  })
  const [base, ...rest] = logs
  const values = Float64Array.from(rest, ({ whole }) => whole - (base?.whole ?? 0))
  const changes = fromColumns(
    rest.map(({ without }, k) => without.map((log, g) => log - (base?.without[g] ?? 0) - (values[k] ?? 0))),
    trips.length,
  )
  const unit = others.map((_, k) => Float64Array.from(others, (_other, j) => (j === k ? 1 : 0)))
  const clusters = trips.filter((_, g) => known.some(({ exposure }) => (exposure[g] ?? 0) > 0)).length
  return jointTest(values, jackknifedCovariance(unit, changes, clusters), clusters - 1)?.p ?? null
}

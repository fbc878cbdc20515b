import { mostMoving } from "../../stats/inference/clusterDeletion.ts"
import { leaveOneOutLogRatios } from "../../stats/logRatioJackknife.ts"
import { positionsWhere } from "../../stats/positions.ts"
import type { Facts } from "../../facts.ts"
import type { OutcomeKind } from "../../../shared/outcomes.ts"
import type { Basis } from "../../../shared/questions.ts"
import type { Estimator, RatioEstimate } from "../estimate.ts"
import type { Gathered, Group } from "../gather.ts"
import type { Pair } from "../pairs.ts"
import type { Adjusted } from "./adjusted.ts"
import { isAdjusted } from "./adjusted.ts"
import { adjustedContrasts } from "./adjustedContrasts.ts"
import type { Bases } from "./basesOf.ts"
import { comparedName } from "./comparedLevels.ts"
import { blocksOf, fitBiasReduced, fitModel, isFitted, valuesOf } from "./fitModel.ts"
import { pickRows } from "./modelRows.ts"
import { standardise } from "./standardise.ts"

/** The trip (its position in the facts) without which a ratio moves most, by what factor, and what is left without it. */
export type WithoutTrip = {
  readonly trip: number
  readonly change: number
  readonly estimate: RatioEstimate | null
}

/** A change of less than this is not worth fitting again for. */
const littleMoved = 1.1

/** The most influential trip of a pair's ratio on one basis; null where no trip moves it or none can be left out. */
export function withoutWorstTrip(
  basis: Basis,
  pair: Pair,
  {
    facts,
    kind,
    bases,
    gathered,
    estimator,
  }: {
    facts: Facts
    kind: OutcomeKind
    bases: Bases
    gathered: Gathered
    estimator: Estimator
  },
): WithoutTrip | null {
  const [a, b] = [pair.a.label, pair.b.label]
  if (basis === "same_trip") return bases.trip?.withoutWorst(a, b) ?? null
  if (basis === "same_stop") return bases.stop?.withoutWorst(a, b) ?? null
  if (basis === "raw") return rawWithout(facts, kind, pair, gathered, estimator)
  const { adjusted } = bases
  return adjusted !== null && isAdjusted(adjusted) ? adjustedWithout(facts, kind, adjusted, a, b) : null
}

function rawWithout(
  facts: Facts,
  kind: OutcomeKind,
  { a, b, estimate }: Pair,
  { trips }: Gathered,
  estimator: Estimator,
): WithoutTrip | null {
  const { ratio } = estimate
  if (kind === "chance" || ratio === null || ratio === 0) return null
  const logs = leaveOneOutLogRatios({ ya: a.events, ha: a.exposure, yb: b.events, hb: b.exposure })
  let worst: { at: number; change: number } | null = null
  logs.forEach((log, at) => {
    const change = log - Math.log(ratio)
    if (Number.isFinite(change) && Math.abs(change) > Math.abs(worst?.change ?? 0)) worst = { at, change }
  })
  if (worst === null) return null
  const { at, change }: { at: number; change: number } = worst
  const trip = trips[at] ?? -1
  const without = (group: Group): Group => ({
    ...group,
    rows: group.rows.filter((stint) => facts.trip[stint] !== trip),
    events: group.events.map((value, g) => (g === at ? 0 : value)),
    exposure: group.exposure.map((value, g) => (g === at ? 0 : value)),
    fished: group.fished.map((value, g) => (g === at ? 0 : value)),
  })
  return { trip, change: Math.exp(change), estimate: estimator.ratio(without(a), without(b)) }
}

function adjustedWithout(
  facts: Facts,
  kind: OutcomeKind,
  { model, compared, held, contrast, biasReduced }: Adjusted,
  a: string,
  b: string,
): WithoutTrip | null {
  // a pair told by the fit beside the model is not the model's to tell
  if (model.biasReduced === null && (biasReduced(a) || biasReduced(b))) return null
  const changes = model.contrasted.oneStep()
  const before = contrast(a, b, false)?.ratio ?? null
  if (changes === null || before === null || before === 0) return null
  const l = new Float64Array(model.design.x.cols)
  const add = (label: string, part: number): void => {
    const at = model.design.names.indexOf(`${comparedName} ${label}`)
    if (at >= 0) l[at] = part
  }
  add(a, 1)
  add(b, -1)
  const worst = mostMoving(l, changes)
  if (worst === null) return null
  const row = model.clustered.cluster.indexOf(worst.cluster)
  const trip = facts.trip[model.rows.stint[row] ?? -1] ?? -1
  const moved = { trip, change: Math.exp(worst.change), estimate: null }
  if (Math.abs(worst.change) < Math.log(littleMoved)) return moved
  const left = pickRows(
    model.rows,
    positionsWhere(model.rows.stint.length, (i) => model.clustered.cluster[i] !== worst.cluster),
  )
  const values = new Map([...compared.values, ...valuesOf(held)])
  const blocks = [compared.block, ...blocksOf(held)]
  const again =
    model.biasReduced === null
      ? fitModel(facts, left, blocks, values, new Set([comparedName]), { near: model })
      : fitBiasReduced(facts, left, blocks, values)
  if (!isFitted(again)) return moved
  const means = standardise(again, compared.block, held)
  const estimate = adjustedContrasts(facts, kind, again, compared, means).contrast(a, b, false)
  if (estimate?.ratio == null) return moved
  return { trip, change: estimate.ratio / before, estimate }
}

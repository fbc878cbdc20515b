import { readFileSync } from "node:fs"
import { z } from "zod"
import { ContrastedFit, adjustedContrast } from "../../../core/stats/inference/adjustedContrast.ts"
import { clusterLevelColumns } from "../../../core/stats/inference/clusterLevel.ts"
import { type MixedFit, fitMixed } from "../../../core/stats/mixed/fitMixed.ts"
import { clustersHolding } from "../../../core/stats/strata/clustersHolding.ts"
import { conditionalPoisson } from "../../../core/stats/strata/conditionalPoisson.ts"
import { withinContrast } from "../../../core/stats/strata/withinContrast.ts"
import { indicators, rowsOf, tallies } from "../seasons/compare.ts"
import type { Drawn } from "../seasons/season.ts"

const contrast = z.object({ log_ratio: z.number(), p: z.number().nullable() })
const both = z.object({ ab: contrast, ac: contrast })

/** R's own fits of the same logbooks, recorded by power.R. */
const recorded = z.object({
  r: z.string(),
  glmmTMB: z.string(),
  sha256: z.string(),
  logbooks: z.array(
    z.object({
      log_likelihood: z.number().nullable(),
      sd: z.number(),
      theta: z.number(),
      adjusted: both,
      same_trip: both,
    }),
  ),
})

export type Recorded = z.infer<typeof recorded>

export function recordedByR(): Recorded {
  return recorded.parse(JSON.parse(readFileSync(new URL("recorded.json", import.meta.url), "utf8")))
}

/** log ratios of the first level over the second and the third, with the p of each; NaN where there is no answer. */
export type Told = {
  readonly ab: { readonly log_ratio: number; readonly p: number | null }
  readonly ac: { readonly log_ratio: number; readonly p: number | null }
}

const NONE = { log_ratio: NaN, p: NaN }

export function laplace(logbook: Drawn): MixedFit {
  const fit = fitMixed(adjustedRows(logbook), "negative binomial", { nodes: 1 })
  if (fit.kind === "separated" || fit.kind === "not fitted") throw new Error("Not fitted.")
  return fit
}

function adjustedRows(logbook: Drawn) {
  return rowsOf(logbook, [new Float64Array(logbook.level.length).fill(1), ...indicators(logbook, [1, 2])])
}

/** The product's adjusted contrasts. */
export function adjusted(logbook: Drawn): Told {
  const rows = adjustedRows(logbook)
  const fit = fitMixed(rows, "negative binomial")
  const told = tallies(logbook)
  if (fit.kind === "separated" || fit.kind === "not fitted" || told.some(({ events }) => events === 0))
    return { ab: NONE, ac: NONE }
  const df = rows.clusters - clusterLevelColumns(rows.x, rows.cluster, rows.clusters).length
  const contrasted = new ContrastedFit(rows, fit, df)
  const against = (other: 1 | 2) => {
    const l = Float64Array.of(0, other === 1 ? -1 : 0, other === 2 ? -1 : 0)
    const [a, b] = [told[0], told[other]]
    if (a === undefined || b === undefined) return NONE
    const { estimate, p } = adjustedContrast(contrasted, l, [a, b])
    return { log_ratio: estimate, p }
  }
  return { ab: against(1), ac: against(2) }
}

/** The product's ratios within trips. */
export function sameTrip(logbook: Drawn): Told {
  const rows = rowsOf(logbook, indicators(logbook, [1, 2]))
  const fit = conditionalPoisson(rows)
  if (fit.kind !== "fit") return { ab: NONE, ac: NONE }
  const { level, events: y, trip: cluster, trips: clusters } = logbook
  const holding = clustersHolding({ level, y, stratum: cluster, cluster })
  const against = (b: 1 | 2) => {
    const l = Float64Array.of(b === 1 ? -1 : 0, b === 2 ? -1 : 0)
    const told = withinContrast(rows, fit, l, { a: 0, b, holding }, { cluster, clusters })
    return told === null ? NONE : { log_ratio: told.estimate, p: told.p }
  }
  return { ab: against(1), ac: against(2) }
}

type Answers = { readonly ab: { p: number | null }; readonly ac: { p: number | null } }

const found = ({ ab, ac }: Answers): number => [ab, ac].filter(({ p }) => p !== null && p < 0.05).length

/** Share of contrasts that are told from 1 at the 5% level. */
export function power(answers: readonly Answers[]): number {
  return answers.reduce((sum, answer) => sum + found(answer), 0) / (2 * answers.length)
}

/**
 * The power of one way over another's on the same logbooks, with its Monte Carlo standard error (delete-one-logbook jackknife,
 * for both ways read each logbook).
 */
export function relativePower(
  own: readonly Answers[],
  theirs: readonly Answers[],
): { readonly ratio: number; readonly error: number } {
  const [a, b] = [own.map(found), theirs.map(found)]
  const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0)
  const [sumA, sumB, n] = [sum(a), sum(b), a.length]
  const without = a.map((value, at) => (sumA - value) / (sumB - (b[at] ?? 0)))
  const middle = sum(without) / n
  const squares = without.reduce((total, value) => total + (value - middle) ** 2, 0)
  return { ratio: sumA / sumB, error: Math.sqrt(((n - 1) / n) * squares) }
}

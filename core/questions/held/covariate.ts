import type { Facts } from "../../facts.ts"
import type { Block } from "../../stats/design/block.ts"
import { knotsAt } from "../../stats/design/naturalSpline.ts"
import { valuesAt } from "../../stats/positions.ts"
import { factorOf, type FactorId } from "../../../shared/factors.ts"
import { levelsOf, type Levels } from "../levels.ts"

/** A factor as it enters a model: its columns' recipe, its values over all stints (NaN unknown), and what must overlap. */
export type Covariate = {
  readonly factor: FactorId
  readonly blocks: readonly Block[]
  readonly values: ReadonlyMap<string, Float64Array>
  readonly support: { readonly kind: "levels" | "range"; readonly values: Float64Array }
  /** Columns it takes in a model. */
  readonly columns: number
  readonly how: string
  /** Names of its levels, where it has levels. */
  readonly levels: readonly string[] | null
}

/** Levels told on fewer trips than this go together as "other". */
const tripsForLevel = 5
/** Columns of a spline: two knots between the ends. */
const splineColumns = 3
const parts = 8

/**
 * A factor as a covariate over the stints at `rows`, which decide its levels and knots; null where it does not vary there.
 * Numbers are splines (`simple`: straight lines), cycles a cosine and a sine (tides two of each, since fish may feed twice a
 * tide), words and counts a column a level, the rare ones taken together (`simple`: counts cut once).
 */
export function covariateOf(
  facts: Facts,
  factor: FactorId,
  rows: readonly number[],
  simple = false,
): Covariate | null {
  const { kind } = factorOf(factor)
  if (kind === "cyclic") return cyclic(facts, factor, rows, simple)
  const whole = factorOf(factor)
  if (kind === "continuous" && !(whole.kind === "continuous" && whole.whole))
    return continuous(facts, factor, rows, simple)
  return byLevels(facts, factor, rows, simple)
}

const numbersOf = (facts: Facts, factor: FactorId): Float64Array => {
  const column = facts.factors[factor]
  return column?.kind === "number" ? column.values : new Float64Array(facts.stints).fill(Number.NaN)
}

function varies(values: Float64Array, rows: readonly number[]): boolean {
  let first = Number.NaN
  return rows.some((row) => {
    const value = values[row] ?? Number.NaN
    if (Number.isNaN(first)) first = value
    return !Number.isNaN(value) && value !== first
  })
}

function cyclic(facts: Facts, factor: FactorId, rows: readonly number[], simple: boolean): Covariate | null {
  const row = factorOf(factor)
  const values = numbersOf(facts, factor)
  if (row.kind !== "cyclic" || !varies(values, rows)) return null
  const turn = (2 * Math.PI) / row.period
  const twice = factor === "tide_phase_rad" && !simple
  const once = values.map((value) => value * turn)
  const named = new Map([[factor as string, once]])
  if (twice)
    named.set(
      `${factor} x 2`,
      once.map((angle) => 2 * angle),
    )
  return {
    factor,
    blocks: [...named.keys()].map((covariate) => ({ kind: "cyclic", covariate })),
    values: named,
    support: {
      kind: "levels",
      values: values.map((value) => Math.floor(((value / row.period) * parts) % parts)),
    },
    columns: 2 * named.size,
    how: twice ? "two cosines and sines" : "a cosine and a sine",
    levels: null,
  }
}

function continuous(
  facts: Facts,
  factor: FactorId,
  rows: readonly number[],
  simple: boolean,
): Covariate | null {
  const values = numbersOf(facts, factor)
  if (!varies(values, rows)) return null
  const known = valuesAt(values, rows).filter((v) => !Number.isNaN(v))
  const knots = simple ? null : knotsAt(known, splineColumns)
  return {
    factor,
    blocks: [
      knots === null ? { kind: "numeric", covariate: factor } : { kind: "spline", covariate: factor, knots },
    ],
    values: new Map([[factor, values]]),
    support: { kind: "range", values },
    columns: knots === null ? 1 : knots.length - 1,
    how: knots === null ? "a straight line" : `a natural spline of ${knots.length - 1} columns`,
    levels: null,
  }
}

function byLevels(
  facts: Facts,
  factor: FactorId,
  rows: readonly number[],
  simple: boolean,
): Covariate | null {
  const row = factorOf(factor)
  const first = simple && row.kind === "continuous" ? row.cuts.slice(0, 1) : null
  const { labels, codes } = levelsOf(facts, factor, first)
  const own = factor === "angler" ? withSeveral(facts, labels, codes) : { labels, codes }
  const trips = tripsAtLevels(facts, own, rows)
  const usual = own.labels.flatMap((_, level) => ((trips[level] ?? 0) >= tripsForLevel ? [level] : []))
  const rare = trips.some((count) => count > 0 && count < tripsForLevel)
  const levels = [...usual.map((level) => own.labels[level] ?? ""), ...(rare ? ["other"] : [])]
  if (levels.length < 2) return null
  const place = own.labels.map((_, level) => {
    const at = usual.indexOf(level)
    return at >= 0 ? at : rare ? levels.length - 1 : Number.NaN
  })
  const values = valuesAt(place, own.codes)
  return {
    factor,
    blocks: [{ kind: "categorical", covariate: factor, levels, reference: 0 }],
    values: new Map([[factor, values]]),
    support: { kind: "levels", values },
    columns: levels.length - 1,
    how: `${levels.length} levels`,
    levels,
  }
}

/** On how many trips each level was fished. */
function tripsAtLevels(
  { trip, trips }: Facts,
  { labels, codes }: Levels,
  rows: readonly number[],
): Int32Array {
  const counts = new Int32Array(labels.length)
  const seen = new Uint8Array(labels.length * trips.length)
  for (const row of rows) {
    const level = codes[row] ?? -1
    const at = level * trips.length + (trip[row] ?? 0)
    if (level < 0 || seen[at] === 1) continue
    seen[at] = 1
    counts[level] = (counts[level] ?? 0) + 1
  }
  return counts
}

/** Several rods at once have no one angler: a level of its own rather than unknown. */
function withSeveral(
  facts: Facts,
  labels: readonly string[],
  codes: Int32Array,
): { labels: readonly string[]; codes: Int32Array } {
  const rods = numbersOf(facts, "rods")
  return {
    labels: [...labels, "several rods"],
    codes: codes.map((code, i) => (code < 0 && (rods[i] ?? 0) > 1 ? labels.length : code)),
  }
}

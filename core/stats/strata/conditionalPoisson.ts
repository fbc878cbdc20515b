import type { NotFitted, Separated } from "../glm/notFitted.ts"
import { separatingDirection } from "../glm/separation.ts"
import { type ClusteredRows } from "../likelihood/rows.ts"
import { cholesky, solve } from "../matrix/cholesky.ts"
import {
  type Matrix,
  addGram,
  dot,
  multiply,
  multiplyTransposed,
  weightedGram,
  zeros,
} from "../matrix/matrix.ts"
import { type Standardised, scaleColumns, undoCoefficients } from "../matrix/standardise.ts"
import { type Changes, deletionSteps } from "../inference/deletionSteps.ts"
import { clusterSums } from "../matrix/clusterSums.ts"
import { sortByCluster } from "../mixed/sortRows.ts"

export type ConditionalFit = {
  readonly kind: "fit"
  readonly coefficients: Float64Array
  /** log of the multinomial probabilities' product: sum of y log pi. */
  readonly logLik: number
  readonly iterations: number
}

/** Columns that have one value within every stratum that tells anything: no comparison within strata can see them. */
export type Constant = { readonly kind: "constant"; readonly columns: readonly number[] }

const MOST_ITERATIONS = 100

/** Poisson model with an effect for each stratum, conditioned on the strata's totals, so that the effects need no estimates:
 *  row i of a stratum takes each of its events with probability pi_i = exp(offset_i + x_i'b) / their sum. Strata are the rows'
 *  clusters; the offset is log exposure; x has no intercept. Newton's method with step-halving. Strata without event, or of one
 *  row, tell nothing. Sources: McCullagh & Nelder (1989) section 6.4; Armstrong, Gasparrini & Tobias (2014) BMC Medical Research
 *  Methodology 14:122 (from memory). */
export function conditionalPoisson(
  rows: ClusteredRows,
  start?: Float64Array,
): ConditionalFit | Constant | Separated | NotFitted {
  const strata = prepareStrata(rows)
  const constant = constantColumns(strata)
  if (constant.length > 0) return { kind: "constant", columns: constant }
  const { scaled } = strata
  const p = scaled.x.cols
  let b = start?.map((value, j) => value * (scaled.scale[j] ?? 1)) ?? new Float64Array(p)
  const score = new Float64Array(p)
  const information = zeros(p, p)
  let logLik = lookAt(strata, b)
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    multiplyTransposed(strata.away, strata.y, score)
    weightedGram(strata.away, strata.expected, information)
    const factor = cholesky(information)
    if (factor === null) return separated(strata) ?? { kind: "not fitted", why: "flat" }
    const step = solve(factor, score)
    if (dot(step, score) < 1e-18 * (1 + Math.abs(logLik))) {
      if (b.some((value) => Math.abs(value) > FAR)) {
        const found = separated(strata)
        if (found !== null) return found
      }
      return Object.freeze({
        kind: "fit",
        coefficients: undoCoefficients(scaled, b),
        logLik,
        iterations: iteration,
      })
    }
    const [before, from] = [logLik, b]
    for (let size = 1, halving = 0; halving < 30; size /= 2, halving++) {
      b = from.map((value, j) => value + size * (step[j] ?? 0))
      logLik = lookAt(strata, b)
      if (logLik >= before - 1e-13 * Math.abs(before)) break
    }
  }
  return separated(strata) ?? { kind: "not fitted", why: "did not converge" }
}

/** Beyond this, in columns of root mean square 1, an estimate may be on its way to infinity. */
const FAR = 8

/** One-step change of the coefficients on leaving out each group of strata: -(A - A_g)^-1 s_g, with s_g its score and A_g its
 *  information. Null where the rest cannot tell the coefficients apart. Row i belongs to group[i], from 0 to groups - 1.
 *  Source: as for oneStepChanges. */
export function conditionalChanges(
  rows: ClusteredRows,
  coefficients: Float64Array,
  group: Int32Array,
  groups: number,
): Changes | null {
  const strata = prepareStrata(rows)
  const { scaled, away, start, order } = strata
  const p = away.cols
  lookAt(
    strata,
    coefficients.map((value, j) => value * (scaled.scale[j] ?? 1)),
  )
  const ofStrata = clusterSums(away, strata.y, start)
  const scores = zeros(groups, p)
  const informations = new Float64Array(groups * p * p)
  for (let s = 0; s < ofStrata.rows; s++) {
    const from = start[s] ?? 0
    const to = start[s + 1] ?? 0
    if (from === to) continue
    const g = group[order[from] ?? 0] ?? 0
    for (let j = 0; j < p; j++) {
      const at = g + groups * j
      scores.data[at] = (scores.data[at] ?? 0) + (ofStrata.data[s + ofStrata.rows * j] ?? 0)
    }
    addGram(away, strata.expected, from, to, informations, g * p * p)
  }
  return deletionSteps(scores, informations, scaled)
}

/** Rows in the order of their strata, their columns of root mean square 1, and what was looked at last. */
type Strata = {
  readonly scaled: Standardised
  readonly y: Float64Array
  readonly offset: Float64Array
  readonly start: Int32Array
  readonly order: Int32Array
  /** Of each stratum, 0 where it tells nothing. */
  readonly events: Float64Array
  /** Each row's probability of an event of its stratum's, given those. */
  readonly share: Float64Array
  /** Events expected of each row, and its columns less their means at the stratum's probabilities, Z: score and information are
   *  Z'y and Z'diag(expected)Z. Both 0 in strata that tell nothing. */
  readonly expected: Float64Array
  readonly away: Matrix
}

function prepareStrata(rows: ClusteredRows): Strata {
  const { rows: sorted, start, order } = sortByCluster(rows)
  const { y, x } = sorted
  const events = new Float64Array(start.length - 1)
  for (let s = 0; s < events.length; s++) {
    const own = y.subarray(start[s], start[s + 1])
    if (own.length > 1) events[s] = own.reduce((sum, count) => sum + count, 0)
  }
  return {
    scaled: scaleColumns(x),
    y,
    offset: sorted.offset ?? new Float64Array(y.length),
    start,
    order,
    events,
    share: new Float64Array(y.length),
    expected: new Float64Array(y.length),
    away: zeros(x.rows, x.cols),
  }
}

/** Looks at the strata at coefficients b: fills what they hold of that, and returns the log-likelihood. */
function lookAt(strata: Strata, b: Float64Array): number {
  const { scaled, y, offset, start, events, share, expected, away } = strata
  const { x } = scaled
  multiply(x, b, share)
  for (let i = 0; i < share.length; i++) share[i] = (share[i] ?? 0) + (offset[i] ?? 0)
  let logLik = 0
  for (let s = 0; s < events.length; s++) {
    const count = events[s] ?? 0
    if (count === 0) continue
    const from = start[s] ?? 0
    const to = start[s + 1] ?? 0
    let largest = -Infinity
    for (let i = from; i < to; i++) largest = Math.max(largest, share[i] ?? 0)
    let sum = 0
    for (let i = from; i < to; i++) {
      const over = (share[i] ?? 0) - largest
      logLik += (y[i] ?? 0) * over
      sum += share[i] = Math.exp(over)
    }
    logLik -= count * Math.log(sum)
    for (let i = from; i < to; i++) {
      share[i] = (share[i] ?? 0) / sum
      expected[i] = count * (share[i] ?? 0)
    }
  }
  for (let j = 0; j < x.cols; j++) {
    const own = j * x.rows
    for (let s = 0; s < events.length; s++) {
      if (events[s] === 0) continue
      const from = start[s] ?? 0
      const to = start[s + 1] ?? 0
      let mean = 0
      for (let i = from; i < to; i++) mean += (share[i] ?? 0) * (x.data[own + i] ?? 0)
      for (let i = from; i < to; i++) away.data[own + i] = (x.data[own + i] ?? 0) - mean
    }
  }
  return logLik
}

function constantColumns({ scaled: { x }, y, start }: Strata): number[] {
  const varies = new Uint8Array(x.cols)
  for (let s = 0; s + 1 < start.length; s++) {
    const from = start[s] ?? 0
    const to = start[s + 1] ?? 0
    if (y.subarray(from, to).every((count) => count === 0)) continue
    for (let j = 0; j < x.cols; j++) {
      const first = x.data[from + x.rows * j] ?? 0
      for (let i = from + 1; i < to; i++)
        if (Math.abs((x.data[i + x.rows * j] ?? 0) - first) > 1e-9) varies[j] = 1
    }
  }
  return Array.from({ length: x.cols }, (_, j) => j).filter((j) => varies[j] === 0)
}

/** A direction along which rows with events gain on all others of their strata, so that no finite coefficients are best. */
function separated({ scaled, y, start }: Strata): Separated | null {
  const { x } = scaled
  const differences: number[][] = []
  const sides: number[] = []
  for (let s = 0; s + 1 < start.length; s++) {
    const [from, to] = [start[s] ?? 0, start[s + 1] ?? 0]
    let taking = from
    while (taking < to && y[taking] === 0) taking++
    if (taking === to) continue
    for (let i = from; i < to; i++) {
      if (i === taking) continue
      sides.push(y[i] === 0 ? 1 : 0)
      differences.push(
        Array.from(
          { length: x.cols },
          (_, j) => (x.data[taking + x.rows * j] ?? 0) - (x.data[i + x.rows * j] ?? 0),
        ),
      )
    }
  }
  const matrix = zeros(differences.length, x.cols)
  differences.forEach((row, i) => {
    row.forEach((value, j) => {
      matrix.data[i + matrix.rows * j] = value
    })
  })
  const direction = separatingDirection(matrix, Int8Array.from(sides))
  return direction === null ? null : { kind: "separated", direction: undoCoefficients(scaled, direction) }
}

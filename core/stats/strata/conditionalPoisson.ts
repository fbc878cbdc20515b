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
  let logLik = lookAt(strata, b)
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    const score = new Float64Array(p)
    multiplyTransposed(scaled.x, strata.residual, score)
    const factor = cholesky(informationOf(strata))
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
  const { scaled, start, order } = strata
  const { x } = scaled
  const p = x.cols
  lookAt(
    strata,
    coefficients.map((value, j) => value * (scaled.scale[j] ?? 1)),
  )
  const ofStrata = clusterSums(x, strata.residual, start)
  const means = clusterSums(x, strata.share, start)
  const scores = zeros(groups, p)
  const informations = new Float64Array(groups * p * p)
  for (let s = 0; s < means.rows; s++) {
    const from = start[s] ?? 0
    const to = start[s + 1] ?? 0
    if (from === to) continue
    const g = group[order[from] ?? 0] ?? 0
    for (let j = 0; j < p; j++) {
      const at = g + groups * j
      scores.data[at] = (scores.data[at] ?? 0) + (ofStrata.data[s + means.rows * j] ?? 0)
    }
    addGram(x, strata.expected, from, to, informations, g * p * p)
    addGram(means, strata.taken, s, s + 1, informations, g * p * p)
  }
  return deletionSteps(scores, informations, scaled)
}

/** Rows in the order of their strata, their columns of root mean square 1 and less their mean in each stratum; and what was looked
 *  at last. */
type Strata = {
  readonly scaled: Standardised
  readonly y: Float64Array
  readonly offset: Float64Array
  readonly start: Int32Array
  readonly order: Int32Array
  /** Row i's probability pi, the events expected of it and how many more it had; 0 in strata that tell nothing. */
  readonly share: Float64Array
  readonly expected: Float64Array
  readonly residual: Float64Array
  /** Minus each stratum's events; 0 where it tells nothing. */
  readonly taken: Float64Array
}

function prepareStrata(rows: ClusteredRows): Strata {
  const { rows: sorted, start, order } = sortByCluster(rows)
  const scaled = scaleColumns(sorted.x)
  const { x } = scaled
  const means = clusterSums(x, new Float64Array(x.rows).fill(1), start)
  for (let s = 0; s < means.rows; s++) {
    const from = start[s] ?? 0
    const to = start[s + 1] ?? 0
    for (let j = 0; j < x.cols; j++) {
      const mean = (means.data[s + means.rows * j] ?? 0) / (to - from)
      for (let i = from; i < to; i++) x.data[i + x.rows * j] = (x.data[i + x.rows * j] ?? 0) - mean
    }
  }
  return {
    scaled,
    y: sorted.y,
    offset: sorted.offset ?? new Float64Array(sorted.y.length),
    start,
    order,
    share: new Float64Array(x.rows),
    expected: new Float64Array(x.rows),
    residual: new Float64Array(x.rows),
    taken: new Float64Array(means.rows),
  }
}

/** Looks at the strata at coefficients b: fills what they hold of that, and returns the log-likelihood. */
function lookAt(strata: Strata, b: Float64Array): number {
  const { scaled, y, offset, start, share, expected, residual, taken } = strata
  const eta = new Float64Array(y.length)
  multiply(scaled.x, b, eta)
  for (let i = 0; i < eta.length; i++) eta[i] = (eta[i] ?? 0) + (offset[i] ?? 0)
  let logLik = 0
  for (let s = 0; s + 1 < start.length; s++) {
    const from = start[s] ?? 0
    const to = start[s + 1] ?? 0
    let [events, largest] = [0, -Infinity]
    for (let i = from; i < to; i++) {
      events += y[i] ?? 0
      largest = Math.max(largest, eta[i] ?? 0)
    }
    if (events === 0 || to - from < 2) continue
    let sum = 0
    for (let i = from; i < to; i++) sum += share[i] = Math.exp((eta[i] ?? 0) - largest)
    const log = largest + Math.log(sum)
    for (let i = from; i < to; i++) {
      const count = y[i] ?? 0
      const part = (share[i] ?? 0) / sum
      share[i] = part
      expected[i] = events * part
      residual[i] = count - events * part
      if (count > 0) logLik += count * ((eta[i] ?? 0) - log)
    }
    taken[s] = -events
  }
  return logLik
}

/** The information of all strata as last looked at: X'(events (diag pi - pi pi'))X. */
function informationOf({ scaled: { x }, expected, share, taken, start }: Strata): Matrix {
  const [information, ofMeans] = [zeros(x.cols, x.cols), zeros(x.cols, x.cols)]
  weightedGram(x, expected, information)
  weightedGram(clusterSums(x, share, start), taken, ofMeans)
  for (let at = 0; at < ofMeans.data.length; at++)
    information.data[at] = (information.data[at] ?? 0) + (ofMeans.data[at] ?? 0)
  return information
}

function constantColumns({ scaled: { x }, y, start }: Strata): number[] {
  const varies = new Uint8Array(x.cols)
  for (let s = 0; s + 1 < start.length; s++) {
    const [from, to] = [start[s] ?? 0, start[s + 1] ?? 0]
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

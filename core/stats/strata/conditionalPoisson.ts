import type { NotFitted, Separated } from "../glm/notFitted.ts"
import { separatingDirection } from "../glm/separation.ts"
import { type ClusteredRows } from "../likelihood/rows.ts"
import { cholesky, solve } from "../matrix/cholesky.ts"
import { type Matrix, dot, mirrorUpper, multiply, zeros } from "../matrix/matrix.ts"
import { scaleColumns, undoCoefficients } from "../matrix/standardise.ts"
import { type Changes } from "../inference/clusterDeletion.ts"
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
  const total = newPieces(p)
  let logLik = addPieces(strata, b, () => total)
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration++) {
    mirrorUpper(total.information)
    const factor = cholesky(total.information)
    if (factor === null) return separated(strata) ?? { kind: "not fitted", why: "flat" }
    const step = solve(factor, total.score)
    if (dot(step, total.score) < 1e-18 * (1 + Math.abs(logLik))) {
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
      total.score.fill(0)
      total.information.data.fill(0)
      logLik = addPieces(strata, b, () => total)
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
  const { scaled } = strata
  const p = scaled.x.cols
  const pieces = Array.from({ length: groups }, () => newPieces(p))
  const b = coefficients.map((value, j) => value * (scaled.scale[j] ?? 1))
  addPieces(strata, b, (firstRow) => pieces[group[firstRow] ?? 0] ?? newPieces(p))
  const total = zeros(p, p)
  for (const { information } of pieces)
    for (let at = 0; at < p * p; at++) total.data[at] = (total.data[at] ?? 0) + (information.data[at] ?? 0)
  const changes = zeros(groups, p)
  const left = zeros(p, p)
  for (const [g, { score, information }] of pieces.entries()) {
    if (score.every((value) => value === 0)) continue
    for (let at = 0; at < p * p; at++) left.data[at] = (total.data[at] ?? 0) - (information.data[at] ?? 0)
    mirrorUpper(left)
    const factor = cholesky(left, 1e-10)
    if (factor === null) return null
    const change = undoCoefficients(scaled, solve(factor, score))
    for (let j = 0; j < p; j++) changes.data[g + groups * j] = -(change[j] ?? 0)
  }
  return changes
}

type Strata = {
  scaled: ReturnType<typeof scaleColumns>
  y: Float64Array
  offset: Float64Array
  start: Int32Array
  order: Int32Array
}

function prepareStrata(rows: ClusteredRows): Strata {
  const { rows: sorted, start, order } = sortByCluster(rows)
  return {
    scaled: scaleColumns(sorted.x),
    y: sorted.y,
    offset: sorted.offset ?? new Float64Array(sorted.y.length),
    start,
    order,
  }
}

type Pieces = { score: Float64Array; information: Matrix }

const newPieces = (p: number): Pieces => ({ score: new Float64Array(p), information: zeros(p, p) })

/** Adds each stratum's score and information (its upper triangle) to the pieces that `of` names by the stratum's first row;
 *  returns the log-likelihood. */
function addPieces(
  { scaled: { x }, y, offset, start, order }: Strata,
  b: Float64Array,
  of: (firstRow: number) => Pieces,
): number {
  const p = x.cols
  const eta = new Float64Array(x.rows)
  multiply(x, b, eta)
  const most = start.reduce((largest, from, k) => Math.max(largest, (start[k + 1] ?? from) - from), 0)
  const share = new Float64Array(most)
  const away = new Float64Array(most * p)
  const weighted = new Float64Array(most)
  let logLik = 0
  for (let s = 0; s + 1 < start.length; s++) {
    const [from, to] = [start[s] ?? 0, start[s + 1] ?? 0]
    const size = to - from
    let [events, largest] = [0, -Infinity]
    for (let i = from; i < to; i++) {
      events += y[i] ?? 0
      largest = Math.max(largest, (eta[i] ?? 0) + (offset[i] ?? 0))
    }
    if (events === 0 || size < 2) continue
    let sum = 0
    for (let i = 0; i < size; i++)
      sum += share[i] = Math.exp((eta[from + i] ?? 0) + (offset[from + i] ?? 0) - largest)
    const log = largest + Math.log(sum)
    for (let i = 0; i < size; i++) {
      share[i] = (share[i] ?? 0) / sum
      const count = y[from + i] ?? 0
      if (count > 0) logLik += count * ((eta[from + i] ?? 0) + (offset[from + i] ?? 0) - log)
    }
    const { score, information } = of(order[from] ?? 0)
    for (let j = 0; j < p; j++) {
      let centre = 0
      for (let i = 0; i < size; i++) centre += (share[i] ?? 0) * (x.data[from + i + x.rows * j] ?? 0)
      let gained = 0
      for (let i = 0; i < size; i++) {
        const distance = (x.data[from + i + x.rows * j] ?? 0) - centre
        away[i + size * j] = distance
        weighted[i] = events * (share[i] ?? 0) * distance
        gained += (y[from + i] ?? 0) * distance
      }
      score[j] = (score[j] ?? 0) + gained
      for (let k = 0; k <= j; k++) {
        let product = 0
        for (let i = 0; i < size; i++) product += (weighted[i] ?? 0) * (away[i + size * k] ?? 0)
        information.data[k + p * j] = (information.data[k + p * j] ?? 0) + product
      }
    }
  }
  return logLik
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

import { type Matrix, column, dot, zeros } from "./matrix.ts"

/** Columns as they are, centred and scaled, so that fitting neither over- nor underflows; what `undo` needs to go back. */
export type Standardised = { x: Matrix; centre: Float64Array; scale: Float64Array; intercept: number }

/** Each column less its mean, over its standard deviation, where the matrix has a column that is constant and not 0 (the
 *  intercept, kept as it is); over its root mean square otherwise. The columns must be independent. Written into `out`, which
 *  may be x itself. */
export function standardise(x: Matrix, out: Matrix = zeros(x.rows, x.cols)): Standardised {
  const intercept = constantColumn(x)
  const centre = new Float64Array(x.cols)
  const scale = new Float64Array(x.cols).fill(1)
  for (let j = 0; j < x.cols; j++) {
    const from = column(x, j)
    const to = column(out, j)
    if (j === intercept) {
      to.set(from)
      continue
    }
    let mean = 0
    if (intercept >= 0) {
      for (let i = 0; i < from.length; i++) mean += from[i] ?? 0
      mean /= x.rows
    }
    let squares = 0
    for (let i = 0; i < from.length; i++) {
      const away = (from[i] ?? 0) - mean
      squares += away * away
    }
    const spread = Math.sqrt(squares / x.rows) || 1
    centre[j] = mean
    scale[j] = spread
    for (let i = 0; i < to.length; i++) to[i] = ((from[i] ?? 0) - mean) / spread
  }
  return { x: out, centre, scale, intercept }
}

/** Each column over its root mean square, none centred. */
export function scaleColumns(x: Matrix): Standardised {
  const scale = new Float64Array(x.cols)
  const out = zeros(x.rows, x.cols)
  for (let j = 0; j < x.cols; j++) {
    const from = column(x, j)
    const to = column(out, j)
    const size = Math.sqrt(dot(from, from) / x.rows) || 1
    scale[j] = size
    for (let i = 0; i < to.length; i++) to[i] = (from[i] ?? 0) / size
  }
  return { x: out, centre: new Float64Array(x.cols), scale, intercept: -1 }
}

/** A column that has one value other than 0 throughout; -1 if there is none. */
function constantColumn(x: Matrix): number {
  for (let j = 0; j < x.cols; j++) {
    const values = column(x, j)
    const first = values[0] ?? 0
    if (first !== 0 && values.every((value) => value === first)) return j
  }
  return -1
}

/** The same linear predictor's coefficients for the columns as they were. */
export function undoCoefficients(standardised: Standardised, b: Float64Array): Float64Array {
  const original = b.slice()
  undoInPlace(standardised, original)
  return original
}

/** The same, written over those given. */
export function undoInPlace({ x, centre, scale, intercept }: Standardised, b: Float64Array): void {
  let shift = 0
  for (let j = 0; j < b.length; j++) {
    const original = (b[j] ?? 0) / (scale[j] ?? 1)
    b[j] = original
    shift += original * (centre[j] ?? 0)
  }
  if (intercept >= 0) b[intercept] = (b[intercept] ?? 0) - shift / (x.data[intercept * x.rows] ?? 1)
}

/** The coefficients for the standardised columns that give the same linear predictor. */
export function applyToCoefficients(
  { x, centre, scale, intercept }: Standardised,
  original: Float64Array,
): Float64Array {
  const b = original.map((value, j) => value * (scale[j] ?? 1))
  if (intercept >= 0) {
    let shift = 0
    for (let j = 0; j < original.length; j++) shift += (original[j] ?? 0) * (centre[j] ?? 0)
    b[intercept] = (b[intercept] ?? 0) + shift / (x.data[intercept * x.rows] ?? 1)
  }
  return b
}

/** Covariance of the original coefficients from that of the standardised ones. Parameters beyond the columns of x (a spread,
 *  a dispersion) pass unchanged. */
export const undoCovariance = (standardised: Standardised, covariance: Matrix): Matrix =>
  turned(standardised, covariance, undoCoefficients)

/** The other way round. */
export const applyToCovariance = (standardised: Standardised, covariance: Matrix): Matrix =>
  turned(standardised, covariance, applyToCoefficients)

function turned(
  standardised: Standardised,
  covariance: Matrix,
  turn: (standardised: Standardised, b: Float64Array) => Float64Array,
): Matrix {
  const size = covariance.cols
  const p = standardised.x.cols
  const out = zeros(size, size)
  out.data.set(covariance.data)
  const line = new Float64Array(p)
  for (let j = 0; j < size; j++) {
    const values = column(out, j)
    values.set(turn(standardised, values.slice(0, p)))
  }
  for (let i = 0; i < size; i++) {
    for (let j = 0; j < p; j++) line[j] = out.data[i + size * j] ?? 0
    turn(standardised, line).forEach((value, j) => {
      out.data[i + size * j] = value
    })
  }
  return out
}

import { type Matrix, dot } from "../matrix/matrix.ts"

/** Value of a function at a point; fills `gradient`. NaN or -Infinity where it cannot be had. */
export type Differentiable = (at: Float64Array, gradient: Float64Array) => number

export type Ascent = {
  at: Float64Array
  value: number
  gradient: Float64Array
  /** Present approximation of the inverse of minus the Hessian. */
  inverseHessian: Matrix
  iterations: number
  /** g'Hg/2: by how much the function could still rise, were it a quadratic. */
  expected: number
  converged: boolean
}

const MOST_ITERATIONS = 200
const MOST_HALVINGS = 40

/** Climbs to a maximum of a smooth function by BFGS steps with backtracking, from `start` and a first guess of the inverse of
 *  minus the Hessian. A step may change no coordinate by more than `longest`. Ends when the expected rise is below `enough`; or,
 *  not converged, where `until` says so or no step rises. Source: Nocedal & Wright (2006) Numerical Optimization, ch. 3 and 6 (from memory). */
export function climb(
  f: Differentiable,
  start: Float64Array,
  inverseHessian: Matrix,
  { enough, longest, until }: { enough: number; longest: number; until?: (at: Float64Array) => boolean },
): Ascent {
  const n = start.length
  const h = { ...inverseHessian, data: inverseHessian.data.slice() }
  let at = start.slice()
  let gradient = new Float64Array(n)
  let value = f(at, gradient)
  let next = new Float64Array(n)
  let nextGradient = new Float64Array(n)
  const direction = new Float64Array(n)
  const change = new Float64Array(n)
  const bend = new Float64Array(n)
  const bent = new Float64Array(n)
  let expected = Infinity
  let iterations = 0
  const ascent = (converged: boolean): Ascent => ({
    at,
    value,
    gradient,
    inverseHessian: h,
    iterations,
    expected,
    converged,
  })
  if (!Number.isFinite(value)) return ascent(false)
  for (; iterations < MOST_ITERATIONS; iterations++) {
    apply(h, gradient, direction)
    const slope = dot(gradient, direction)
    expected = slope / 2
    if (expected < enough) return ascent(true)
    let size = 1
    for (let j = 0; j < n; j++) size = Math.min(size, longest / Math.abs(direction[j] ?? 0))
    let risen = false
    for (let halving = 0; halving < MOST_HALVINGS; halving++) {
      for (let j = 0; j < n; j++) next[j] = (at[j] ?? 0) + size * (direction[j] ?? 0)
      const reached = f(next, nextGradient)
      if (reached >= value + 1e-4 * size * slope) {
        value = reached
        risen = true
        break
      }
      // the maximum of the parabola through both values and the slope, kept between a tenth and a half
      const curved = Number.isFinite(reached) ? (slope * size) / (2 * (slope * size + value - reached)) : 0.1
      size *= Math.min(0.5, Math.max(0.1, curved))
    }
    if (risen && until?.(next) === true) return { ...ascent(false), at: next, gradient: nextGradient }
    if (!risen) return ascent(expected < 1e-10 * (1 + Math.abs(value)))
    for (let j = 0; j < n; j++) {
      change[j] = (next[j] ?? 0) - (at[j] ?? 0)
      bend[j] = (gradient[j] ?? 0) - (nextGradient[j] ?? 0)
    }
    update(h, change, bend, bent)
    ;[at, next] = [next, at]
    ;[gradient, nextGradient] = [nextGradient, gradient]
  }
  return ascent(false)
}

function apply({ cols, data }: Matrix, v: Float64Array, out: Float64Array): void {
  out.fill(0)
  for (let j = 0; j < cols; j++) {
    const factor = v[j] ?? 0
    for (let i = 0; i < cols; i++) out[i] = (out[i] ?? 0) + factor * (data[i + cols * j] ?? 0)
  }
}

/** The BFGS update of the inverse Hessian for a step `change` along which minus the gradient grew by `bend`; none where the
 *  function did not curve down along it. */
function update(h: Matrix, change: Float64Array, bend: Float64Array, bent: Float64Array): void {
  const curvature = dot(change, bend)
  apply(h, bend, bent)
  const own = dot(bend, bent)
  if (!(curvature > 1e-10 * Math.sqrt(own * curvature || 0)) || curvature <= 0) return
  const along = (1 + own / curvature) / curvature
  for (let j = 0; j < h.cols; j++) {
    for (let i = 0; i < h.cols; i++) {
      const at = i + h.cols * j
      const cross = (change[i] ?? 0) * (bent[j] ?? 0) + (bent[i] ?? 0) * (change[j] ?? 0)
      h.data[at] = (h.data[at] ?? 0) + along * (change[i] ?? 0) * (change[j] ?? 0) - cross / curvature
    }
  }
}

import { gaussHermite } from "../mixed/gaussHermite.ts"

/** How often a count was seen, and how often a model expects it; the last of them stands for its count and all larger ones. */
export type CountSeen = { readonly count: number; readonly observed: number; readonly expected: number }

const NODES = 15

/**
 * Counts seen and expected under a model of log means eta with normal cluster intercepts of standard deviation `sd`, integrated
 * over by quadrature, and negative binomial size `theta` (Infinity: Poisson). From 0 to the largest count seen, at most `most`.
 * Drawn on a root scale, on which a bar's luck is about the same whatever its height, it is a rootogram.
 * Source: Kleiber & Zeileis (2016) The American Statistician 70:296-303, after Tukey (both from memory).
 */
export function rootogram(
  y: Float64Array,
  eta: Float64Array,
  { sd, theta }: { readonly sd: number; readonly theta: number },
  most = 12,
): CountSeen[] {
  const last = Math.min(
    most,
    y.reduce((largest, value) => Math.max(largest, value), 0),
  )
  const observed = new Float64Array(last + 1)
  for (const value of y) observed[Math.min(last, value)] = (observed[Math.min(last, value)] ?? 0) + 1
  const expected = new Float64Array(last + 1)
  const means = eta.map(Math.exp)
  const { x, logWeight } = gaussHermite(sd > 0 ? NODES : 1)
  for (let node = 0; node < x.length; node++) {
    const part = Math.exp(logWeight[node] ?? 0) / Math.sqrt(Math.PI)
    const factor = Math.exp(Math.SQRT2 * sd * (x[node] ?? 0))
    for (const typical of means) {
      const mean = factor * typical
      const ratio = theta === Infinity ? mean : mean / (theta + mean)
      let chance = theta === Infinity ? Math.exp(-mean) : Math.exp(-theta * Math.log1p(mean / theta))
      let left = 1
      for (let count = 0; count < last; count++) {
        expected[count] = (expected[count] ?? 0) + part * chance
        left -= chance
        chance *= ((theta === Infinity ? 1 : theta + count) * ratio) / (count + 1)
      }
      expected[last] = (expected[last] ?? 0) + part * Math.max(0, left)
    }
  }
  return Array.from(observed, (seen, count) => ({ count, observed: seen, expected: expected[count] ?? 0 }))
}

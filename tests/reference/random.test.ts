// Seeded draws against the generator's published stream and the laws they are named for.
import { xoroshiro128plusFromState } from "pure-rand/generator/xoroshiro128plus"
import { expect, test } from "vitest"
import {
  below,
  binomial,
  gamma,
  negativeBinomial,
  normal,
  poisson,
  type Random,
  stream,
  uniform,
} from "../../core/stats/random.ts"
import { betaLower, betaUpper } from "../../core/stats/distributions/incompleteBeta.ts"
import { gammaLower, gammaUpper } from "../../core/stats/distributions/incompleteGamma.ts"
import { normalLower } from "../../core/stats/distributions/normal.ts"

// First outputs of xoroshiro128+ 1.0 (Blackman & Vigna, 2018 constants 24, 16, 37) from the state 1, 2, as their C code gives
// them: 3, 412333834243, 2360170716294286339, 9295852285959843169. The library hands out the low 32 bits.
test("the generator is xoroshiro128+", () => {
  const random = xoroshiro128plusFromState([0, 1, 0, 2])
  const low = (value: bigint): number => Number(BigInt.asIntN(32, value))
  expect(Array.from({ length: 4 }, () => random.next())).toEqual([
    3,
    low(412333834243n),
    low(2360170716294286339n),
    low(9295852285959843169n),
  ])
})

// From Python: hashlib.sha256(b"7 trial 1"), its first 16 bytes as state of the generator written from Blackman & Vigna's
// description, uniforms of 26 and 27 low bits of two outputs. Exact.
test.each([
  {
    seed: 7,
    name: "trial 1",
    first: [0.07651372910713805, 0.40595566100701064, 0.664147058962098, 0.16005166336752952],
  },
  {
    seed: 20260501,
    name: "bootstrap",
    first: [0.5874885156666177, 0.468047417186337, 0.34518106624889744, 0.14627066310014158],
  },
])("the stream $name of seed $seed is known", ({ seed, name, first }) => {
  const random = stream(seed, name)
  expect(first.map(() => uniform(random))).toEqual(first)
})

test("streams of near seeds and names have nothing to do with each other", () => {
  const n = 20_000
  const names = [stream(1, "a"), stream(1, "b"), stream(2, "a"), stream(1, "a ")]
  const draws = names.map((random) => Float64Array.from({ length: n }, () => uniform(random) - 0.5))
  for (const [i, one] of draws.entries())
    for (const other of draws.slice(i + 1)) {
      const correlation = (12 * one.reduce((sum, x, k) => sum + x * (other[k] ?? NaN), 0)) / n
      // standard error 1/sqrt(n); four of them
      expect(Math.abs(correlation)).toBeLessThan(4 / Math.sqrt(n))
    }
})

type Law = { what: string; draw: (random: Random) => number; mean: number; variance: number }
const laws: Law[] = [
  { what: "uniform", draw: uniform, mean: 1 / 2, variance: 1 / 12 },
  { what: "below 6", draw: (r) => below(r, 6), mean: 2.5, variance: 35 / 12 },
  { what: "normal", draw: normal, mean: 0, variance: 1 },
  { what: "gamma 0.3", draw: (r) => gamma(r, 0.3, 2), mean: 0.6, variance: 1.2 },
  { what: "gamma 1.3", draw: (r) => gamma(r, 1.3), mean: 1.3, variance: 1.3 },
  { what: "gamma 40", draw: (r) => gamma(r, 40, 1 / 40), mean: 1, variance: 1 / 40 },
  { what: "Poisson 0.4", draw: (r) => poisson(r, 0.4), mean: 0.4, variance: 0.4 },
  { what: "Poisson 47.3", draw: (r) => poisson(r, 47.3), mean: 47.3, variance: 47.3 },
  { what: "Poisson in parts", draw: (r) => poisson(r, 1100), mean: 1100, variance: 1100 },
  {
    what: "negative binomial",
    draw: (r) => negativeBinomial(r, 2, 1.3),
    mean: 2,
    variance: 2 + 4 / 1.3,
  },
  { what: "binomial 0.2", draw: (r) => binomial(r, 30, 0.2), mean: 6, variance: 4.8 },
  { what: "binomial 0.9", draw: (r) => binomial(r, 7, 0.9), mean: 6.3, variance: 0.63 },
]

/** Mean of many draws, in standard errors from `expected`; the draws' own spread gives the error. */
function distance(draw: () => number, expected: number): number {
  const n = 50_000
  let [sum, squares] = [0, 0]
  for (let i = 0; i < n; i++) {
    const value = draw()
    sum += value
    squares += value * value
  }
  const mean = sum / n
  return Math.abs(mean - expected) / Math.sqrt((squares / n - mean ** 2) / n)
}

// By definition of each law; 4 standard errors are passed by chance once in 16,000.
test.each(laws)("$what has the mean and variance of its law", ({ what, draw, mean, variance }) => {
  const random = stream(9, what)
  expect(distance(() => draw(random), mean)).toBeLessThan(4)
  expect(distance(() => (draw(random) - mean) ** 2, variance)).toBeLessThan(4)
})

// Distribution functions by Cephes, themselves checked against R in special.test.ts. Counts by their ties with the gamma and the
// beta: Abramowitz & Stegun (1964) 26.4.21, 26.5.24 and 26.5.26 (from memory).
const distributions: { what: string; draw: (random: Random) => number; cdf: (x: number) => number }[] = [
  { what: "normal", draw: normal, cdf: normalLower },
  { what: "gamma 0.3", draw: (r) => gamma(r, 0.3), cdf: (x) => gammaLower(0.3, x) },
  { what: "gamma 2.5", draw: (r) => gamma(r, 2.5), cdf: (x) => gammaLower(2.5, x) },
  { what: "Poisson", draw: (r) => poisson(r, 6.5), cdf: (k) => gammaUpper(k + 1, 6.5) },
  {
    what: "negative binomial",
    draw: (r) => negativeBinomial(r, 3, 0.7),
    cdf: (k) => betaLower(0.7, k + 1, 0.7 / 3.7),
  },
  {
    what: "binomial",
    draw: (r) => binomial(r, 40, 0.35),
    cdf: (k) => (k >= 40 ? 1 : betaUpper(k + 1, 40 - k, 0.35)),
  },
]

test.each(distributions)("$what follows its distribution function", ({ what, draw, cdf }) => {
  const random = stream(11, what)
  const n = 20_000
  const seen = Float64Array.from({ length: n }, () => draw(random)).toSorted()
  let largest = 0
  for (const [i, x] of seen.entries())
    if (seen[i + 1] !== x) largest = Math.max(largest, Math.abs((i + 1) / n - cdf(x)))
  // Kolmogorov's bound for chance of 0.1%: 1.95/sqrt(n); for counts it errs wide
  expect(largest).toBeLessThan(1.95 / Math.sqrt(n))
})

test("certain outcomes take no luck", () => {
  const random = stream(1, "certain")
  expect(poisson(random, 0)).toBe(0)
  expect(binomial(random, 12, 0)).toBe(0)
  expect(binomial(random, 12, 1)).toBe(12)
  expect(binomial(random, 0, 0.4)).toBe(0)
})

test("a law that cannot be is refused, with the value", () => {
  const random = stream(1, "refused")
  expect(() => gamma(random, 0)).toThrow(/above 0.*0/)
  expect(() => poisson(random, -2)).toThrow(/-2/)
  expect(() => poisson(random, Number.NaN)).toThrow(/NaN/)
  expect(() => binomial(random, 5, 1.2)).toThrow(/1\.2/)
})

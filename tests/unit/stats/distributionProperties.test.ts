import fc from "fast-check"
import { expect, test } from "vitest"
import { betaLogDensity, betaQuantile } from "../../../core/stats/distributions/betaDistribution.ts"
import {
  binomialLogPmf,
  binomialLogTails,
  binomialQuantile,
} from "../../../core/stats/distributions/binomial.ts"
import { chiSquaredLogUpper, chiSquaredQuantile } from "../../../core/stats/distributions/chiSquared.ts"
import { fLogUpper, fLower, fQuantile, fUpper } from "../../../core/stats/distributions/fDistribution.ts"
import { gammaLogDensity, gammaQuantile } from "../../../core/stats/distributions/gammaDistribution.ts"
import { betaLogTails, betaLower } from "../../../core/stats/distributions/incompleteBeta.ts"
import { gammaLogTails, gammaLower } from "../../../core/stats/distributions/incompleteGamma.ts"
import type { LogTails } from "../../../core/stats/distributions/logTails.ts"
import {
  negativeBinomialLogPmf,
  negativeBinomialLogTails,
  negativeBinomialQuantile,
} from "../../../core/stats/distributions/negativeBinomial.ts"
import {
  normalLogDensity,
  normalLogLower,
  normalLower,
  normalQuantile,
  normalQuantileFromLog,
} from "../../../core/stats/distributions/normal.ts"
import { poissonLogPmf, poissonLogTails, poissonQuantile } from "../../../core/stats/distributions/poisson.ts"
import {
  tLogDensity,
  tLogLower,
  tLower,
  tQuantile,
  tTwoSidedP,
} from "../../../core/stats/distributions/studentT.ts"
import { digamma, logGamma, trigamma } from "../../../core/stats/special.ts"

const probability = fc.double({ min: 1e-12, max: 1 - 1e-12, noNaN: true })
/** From 0.001 to a million, evenly on the log scale. */
const size = fc.double({ min: Math.log(1e-3), max: Math.log(1e6), noNaN: true }).map(Math.exp)
const count = fc.oneof(fc.nat(20), fc.nat(1_000_000))
const share = fc.double({ min: 0, max: 1, noNaN: true })

const functions: readonly ((a: number, b: number, c: number) => number)[] = [
  logGamma,
  digamma,
  trigamma,
  (a, x) => gammaLogTails(a, x).lower,
  (a, x) => gammaLogTails(a, x).upper,
  (a, b, x) => betaLogTails(a, b, x).lower,
  (a, b, x) => betaLogTails(a, b, x).upper,
  gammaLogDensity,
  gammaQuantile,
  betaLogDensity,
  betaQuantile,
  (a, b, c) => betaQuantile(c, a, b),
  chiSquaredLogUpper,
  chiSquaredQuantile,
  fLogUpper,
  fQuantile,
  normalLogDensity,
  normalLogLower,
  normalQuantile,
  normalQuantileFromLog,
  tLogDensity,
  tLogLower,
  tTwoSidedP,
  tQuantile,
  poissonLogPmf,
  (k, mean) => poissonLogTails(k, mean).upper,
  poissonQuantile,
  binomialLogPmf,
  (k, n, p) => binomialLogTails(k, n, p).lower,
  binomialQuantile,
  (n, p, level) => binomialQuantile(level, n, p),
  negativeBinomialLogPmf,
  (k, n, mu) => negativeBinomialLogTails(k, n, mu).lower,
  negativeBinomialQuantile,
]

/** What came of a call: a number, NaN, or the sentence of a RangeError; other errors go on. */
function outcome(call: () => number): string {
  try {
    return Number.isNaN(call()) ? "NaN" : "number"
  } catch (error) {
    if (error instanceof RangeError) return error.message
    throw error
  }
}

test("any arguments give a number or a RangeError with a sentence", () => {
  const anything = fc.oneof(
    fc.double(),
    fc.double({ min: 0, max: 1 }),
    fc.nat(),
    size,
    fc.constantFrom(0, 1, 0.5, NaN, Infinity, -Infinity, -1, 1e6, 1e-300, 5e-324, 1e300, 1 - 2 ** -53),
  )
  fc.assert(
    fc.property(fc.constantFrom(...functions), anything, anything, anything, (f, a, b, c) => {
      expect(
        outcome(() => f(a, b, c)),
        `${String(f)} of ${a}, ${b}, ${c}`,
      ).toMatch(/^number$|needs .* given/s)
    }),
    { numRuns: 20_000 },
  )
})

/** Both tails are probabilities and make 1. */
function expectWhole({ lower, upper }: LogTails): void {
  expect(lower).toBeLessThanOrEqual(0)
  expect(upper).toBeLessThanOrEqual(0)
  expect(Math.exp(lower) + Math.exp(upper)).toBeCloseTo(1, 14)
}

test("the two tails make 1", () => {
  fc.assert(fc.property(size, size, (a, x) => expectWhole(gammaLogTails(a, x))))
  fc.assert(fc.property(size, size, share, (a, b, x) => expectWhole(betaLogTails(a, b, x))))
  fc.assert(fc.property(count, size, (k, mean) => expectWhole(poissonLogTails(k, mean))))
  fc.assert(fc.property(count, count, share, (k, n, p) => expectWhole(binomialLogTails(k, n, p))))
  fc.assert(fc.property(count, size, size, (k, n, mu) => expectWhole(negativeBinomialLogTails(k, n, mu))))
  fc.assert(
    fc.property(size, size, size, (f, df1, df2) => {
      expect(fLower(f, df1, df2) + fUpper(f, df1, df2)).toBeCloseTo(1, 14)
    }),
  )
})

// The tail at the quantile is the probability asked for, to 1e-9 of it: a quantile's last digits move the tail at shape 1e6 by
// some 1e-10 of itself.
test("a quantile leaves the probability it was asked for", () => {
  const expectBack = (got: number, p: number): void => {
    expect(Math.abs(got - p)).toBeLessThanOrEqual(1e-9 * p)
  }
  const ordinary = size.filter((value) => value > 0.2)
  fc.assert(fc.property(probability, ordinary, (p, a) => expectBack(gammaLower(a, gammaQuantile(p, a)), p)))
  fc.assert(
    fc.property(probability, ordinary, ordinary, (p, a, b) => {
      const x = betaQuantile(p, a, b)
      if (x > 0.5) return // 1 - x has lost digits of the upper tail, which the F quantile below keeps
      expectBack(betaLower(a, b, x), p)
    }),
  )
  fc.assert(fc.property(probability, ordinary, (p, df) => expectBack(tLower(tQuantile(p, df), df), p)))
  fc.assert(
    fc.property(probability, ordinary, ordinary, (p, df1, df2) =>
      expectBack(fLower(fQuantile(p, df1, df2), df1, df2), p),
    ),
  )
  fc.assert(fc.property(probability, (p) => expectBack(normalLower(normalQuantile(p)), p)))
  const logP = fc.double({ min: -1e6, max: -1e-10, noNaN: true })
  fc.assert(
    fc.property(logP, (log) => {
      const got = normalLogLower(normalQuantileFromLog(log))
      expect(Math.abs(got - log)).toBeLessThanOrEqual(1e-12 * Math.abs(log))
    }),
  )
})

test("quantiles rise with the probability", () => {
  const quantiles: readonly ((p: number, a: number, b: number) => number)[] = [
    gammaQuantile,
    betaQuantile,
    chiSquaredQuantile,
    tQuantile,
    fQuantile,
    poissonQuantile,
    negativeBinomialQuantile,
    (p, n) => binomialQuantile(p, Math.round(n), 0.3),
  ]
  fc.assert(
    fc.property(fc.constantFrom(...quantiles), probability, probability, size, size, (q, p1, p2, a, b) => {
      const [low, high] = [Math.min(p1, p2), Math.max(p1, p2)]
      // neighbouring probabilities may come out a few digits the wrong way round
      expect(q(low, a, b)).toBeLessThanOrEqual(q(high, a, b) * (1 + Math.sign(q(high, a, b)) * 1e-11))
    }),
  )
})

test("a count's quantile is the least count that reaches the probability", () => {
  fc.assert(
    fc.property(probability, size, (p, mean) => {
      const k = poissonQuantile(p, mean)
      expect(Math.exp(poissonLogTails(k, mean).lower)).toBeGreaterThanOrEqual(p * (1 - 1e-12))
      expect(k > 0 ? Math.exp(poissonLogTails(k - 1, mean).lower) : 0).toBeLessThan(p)
    }),
  )
})

test("laws meet where they must", () => {
  const near = (got: number, wanted: number): void => {
    expect(Math.abs(got - wanted)).toBeLessThanOrEqual(1e-9 * Math.max(1, Math.abs(wanted)))
  }
  // t squared is F on 1 and df
  fc.assert(
    fc.property(fc.double({ min: 0.01, max: 50, noNaN: true }), size, (t, df) =>
      near(fLogUpper(t * t, 1, df), Math.log(tTwoSidedP(t, df))),
    ),
  )
  // the number of failures has the law of n minus the number of successes
  fc.assert(
    fc.property(fc.nat(500), fc.nat(500), fc.double({ min: 0.01, max: 0.99, noNaN: true }), (k, more, p) => {
      const n = k + more + 1
      near(binomialLogTails(k, n, p).lower, binomialLogTails(n - k - 1, n, 1 - p).upper)
    }),
  )
  // a probability of a count is the difference of two tails
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 40 }),
      size,
      fc.double({ min: 0.1, max: 40, noNaN: true }),
      (k, n, mu) => {
        const step =
          Math.exp(negativeBinomialLogTails(k, n, mu).lower) -
          Math.exp(negativeBinomialLogTails(k - 1, n, mu).lower)
        near(Math.exp(negativeBinomialLogPmf(k, n, mu)), step)
      },
    ),
  )
})

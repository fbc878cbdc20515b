// Tables in cases/stats, computed with R 4.2.2 (each file states its source); tolerances are the files' own, every row and
// column is checked. Log tails are compared as logs, so a relative tolerance there is one of the log.
import { expect, test } from "vitest"
import { betaLogDensity, betaQuantile } from "../../core/stats/distributions/betaDistribution.ts"
import {
  binomialLogPmf,
  binomialLogTails,
  binomialQuantile,
} from "../../core/stats/distributions/binomial.ts"
import {
  chiSquaredLogUpper,
  chiSquaredQuantile,
  chiSquaredUpper,
} from "../../core/stats/distributions/chiSquared.ts"
import { fLogUpper, fLower, fQuantile, fUpper } from "../../core/stats/distributions/fDistribution.ts"
import { gammaLogDensity, gammaQuantile } from "../../core/stats/distributions/gammaDistribution.ts"
import { betaLogTails, betaLower, betaUpper } from "../../core/stats/distributions/incompleteBeta.ts"
import { gammaLogTails, gammaLower, gammaUpper } from "../../core/stats/distributions/incompleteGamma.ts"
import {
  negativeBinomialLogPmf,
  negativeBinomialLogTails,
  negativeBinomialQuantile,
} from "../../core/stats/distributions/negativeBinomial.ts"
import {
  normalDensity,
  normalLogDensity,
  normalLogLower,
  normalLogUpper,
  normalLower,
  normalQuantile,
  normalQuantileFromLog,
  normalUpper,
} from "../../core/stats/distributions/normal.ts"
import { poissonLogPmf, poissonLogTails, poissonQuantile } from "../../core/stats/distributions/poisson.ts"
import { digamma, logGamma, trigamma } from "../../core/stats/special.ts"
import {
  tLogDensity,
  tLogLower,
  tLower,
  tQuantile,
  tTwoSidedP,
  tUpper,
} from "../../core/stats/distributions/studentT.ts"
import { type Tolerance, difference, loadTable } from "./case.ts"

/** What a row's expected values must be, in the order of the file's columns. */
type Row = (...inputs: number[]) => number[]

/** Sentences on where a table differs. `flushed` is an absolute tolerance for values R set to 0 on underflow. */
function tableDifferences(name: string, row: Row, flushed = 0): string[] {
  const { rows, tolerance } = loadTable(`stats/${name}.json`)
  if (rows.length < 11) throw new Error(`${name} has only ${rows.length} rows.`)
  const within: Tolerance = { rel: tolerance.rel, abs: Math.max(tolerance.abs, flushed) }
  return rows.flatMap(({ inputs, expected }) => {
    const got = row(...inputs)
    if (got.length !== expected.length) throw new Error(`${name} has ${expected.length} columns.`)
    return got.flatMap((value, index) => {
      const what = `${name} column ${index} at ${inputs.join(", ")}`
      return difference(value, expected[index] ?? NaN, within, what) ?? []
    })
  })
}

/** The smallest double of full precision; R answers 0, or fewer digits, below it. */
const SMALLEST_NORMAL = 2 ** -1022

test("log-gamma, digamma and trigamma agree with R", () => {
  const row: Row = (x = NaN) => [logGamma(x), digamma(x), trigamma(x)]
  expect(tableDifferences("01-gamma-functions", row)).toEqual([])
})

test("both tails of the incomplete gamma and their logs agree with R", () => {
  const row: Row = (x = NaN, a = NaN) => {
    const logs = gammaLogTails(a, x)
    return [gammaLower(a, x), gammaUpper(a, x), logs.lower, logs.upper]
  }
  expect(tableDifferences("01-incomplete-gamma", row, SMALLEST_NORMAL)).toEqual([])
})

test("both tails of the incomplete beta and their logs agree with R", () => {
  const row: Row = (x = NaN, a = NaN, b = NaN) => {
    const logs = betaLogTails(a, b, x)
    return [betaLower(a, b, x), betaUpper(a, b, x), logs.lower, logs.upper]
  }
  expect(tableDifferences("01-incomplete-beta", row)).toEqual([])
})

test("the normal density, its tails and their logs agree with R", () => {
  const row: Row = (z = NaN) => [
    normalDensity(z),
    normalLower(z),
    normalUpper(z),
    normalLogLower(z),
    normalLogUpper(z),
  ]
  expect(tableDifferences("01-normal-cdf", row, SMALLEST_NORMAL)).toEqual([])
})

test("normal quantiles agree with R, from the log of the tail too", () => {
  const row: Row = (p = NaN) => [normalQuantile(p), -normalQuantileFromLog(Math.log(p))]
  expect(tableDifferences("01-normal-quantile", row)).toEqual([])
  expect(tableDifferences("01-normal-quantile-log", (logP = NaN) => [normalQuantileFromLog(logP)])).toEqual(
    [],
  )
})

test("the t density, its tails and their logs agree with R, fractional degrees of freedom too", () => {
  const row: Row = (t = NaN, df = NaN) => [
    Math.exp(tLogDensity(t, df)),
    tLower(t, df),
    tUpper(t, df),
    tLogLower(t, df),
  ]
  expect(tableDifferences("01-t-cdf", row)).toEqual([])
})

test("the two-sided t probability is twice the smaller tail", () => {
  const { rows, tolerance } = loadTable("stats/01-t-cdf.json")
  for (const { inputs, expected } of rows) {
    const [t = NaN, df = NaN] = inputs
    const smaller = Math.min(expected[1] ?? NaN, expected[2] ?? NaN)
    expect(difference(tTwoSidedP(t, df), 2 * smaller, tolerance, `p of ${t} on ${df}`)).toBeNull()
  }
})

test("t quantiles agree with R, fractional degrees of freedom too", () => {
  expect(tableDifferences("01-t-quantile", (p = NaN, df = NaN) => [tQuantile(p, df)])).toEqual([])
})

test("chi-squared quantiles and tails agree with R", () => {
  const row: Row = (p = NaN, df = NaN) => [
    chiSquaredQuantile(p, df),
    chiSquaredUpper(2 * df, df),
    chiSquaredLogUpper(20 * df, df),
  ]
  expect(tableDifferences("01-chisq", row)).toEqual([])
})

test("F quantiles and tails agree with R", () => {
  const row: Row = (p = NaN, df1 = NaN, df2 = NaN) => [fQuantile(p, df1, df2), fUpper(3, df1, df2)]
  expect(tableDifferences("01-f", row)).toEqual([])
})

test("gamma quantiles and densities agree with R", () => {
  const row: Row = (p = NaN, shape = NaN) => [gammaQuantile(p, shape), gammaLogDensity(2, shape)]
  expect(tableDifferences("01-gamma-quantile", row)).toEqual([])
})

test("beta quantiles and densities agree with R", () => {
  const row: Row = (p = NaN, a = NaN, b = NaN) => [betaQuantile(p, a, b), betaLogDensity(0.3, a, b)]
  expect(tableDifferences("01-beta-quantile", row)).toEqual([])
})

test("the Poisson law agrees with R", () => {
  const row: Row = (k = NaN, mean = NaN) => {
    const logs = poissonLogTails(k, mean)
    return [
      poissonLogPmf(k, mean),
      Math.exp(logs.lower),
      Math.exp(logs.upper),
      logs.upper,
      ...[0.025, 0.5, 0.975].map((p) => poissonQuantile(p, mean)),
    ]
  }
  expect(tableDifferences("01-poisson", row)).toEqual([])
})

test("the binomial law agrees with R", () => {
  const row: Row = (k = NaN, n = NaN, p = NaN) => {
    const logs = binomialLogTails(k, n, p)
    return [
      binomialLogPmf(k, n, p),
      Math.exp(logs.lower),
      Math.exp(logs.upper),
      ...[0.025, 0.5, 0.975].map((level) => binomialQuantile(level, n, p)),
    ]
  }
  expect(tableDifferences("01-binomial", row)).toEqual([])
})

test("the negative binomial law agrees with R, up to its Poisson limit", () => {
  const row: Row = (k = NaN, size = NaN, mu = NaN) => {
    const logs = negativeBinomialLogTails(k, size, mu)
    return [
      negativeBinomialLogPmf(k, size, mu),
      Math.exp(logs.lower),
      Math.exp(logs.upper),
      ...[0.025, 0.5, 0.975].map((p) => negativeBinomialQuantile(p, size, mu)),
    ]
  }
  expect(tableDifferences("01-negative-binomial", row)).toEqual([])
})

// Both follow from the definitions: t^2 on df degrees of freedom is F on 1 and df, also where the tail is below 1e-300.
test("a far F tail is twice the t tail, and the normal log density is the log of the density", () => {
  const digits = { rel: 1e-12, abs: 0 }
  for (const df of [40.5, 300, 1e6]) {
    const twice = tLogLower(-1e5, df) + Math.LN2
    expect(difference(fLogUpper(1e10, 1, df), twice, digits, `log tail on ${df}`)).toBeNull()
  }
  expect(tLogLower(-1e5, 1e6)).toBeLessThan(-1000)
  expect(difference(normalLogDensity(-30), Math.log(normalDensity(-30)), digits, "log density")).toBeNull()
})

// Expected: mpmath 1.3.0 at 40 digits (betainc, and bisection on it).
test("the incomplete beta holds with one small parameter and the other near 170", () => {
  const digits = { rel: 1e-10, abs: 0 }
  expect(difference(betaLower(0.05, 170.5, 0.01), 0.9960474993417283, digits, "lower tail")).toBeNull()
  expect(difference(betaUpper(0.05, 170.5, 0.01), 0.00395250065827169, digits, "upper tail")).toBeNull()
  expect(difference(betaQuantile(0.025, 0.05, 171), 3.117228730246116e-35, digits, "far quantile")).toBeNull()
  expect(difference(betaQuantile(0.025, 0.2, 170.5), 3.74634398013628e-11, digits, "quantile")).toBeNull()
})

// The limits are exact: the tails are 0 or 1 to the last digit of a double, and a quantile below 1e-300 is 0.
test("a result too small for a double is 0, not an error", () => {
  expect(gammaUpper(3, 800)).toBe(0)
  expect(gammaLower(3, 800)).toBe(1)
  expect(gammaQuantile(0.025, 1e-4)).toBe(0)
  expect(betaQuantile(0.025, 1e-5, 1)).toBe(0)
})

test("impossible arguments are refused with the value", () => {
  expect(() => gammaLower(-1, 2)).toThrow(
    new RangeError("The incomplete gamma needs a above 0, from 1e-100 to 1e100; it was given -1."),
  )
  expect(() => gammaUpper(1, -2)).toThrow("-2")
  expect(() => betaLower(1, 2, 1.5)).toThrow("1.5")
  expect(() => logGamma(0)).toThrow(RangeError)
  expect(() => gammaQuantile(1, 2)).toThrow("between 0 and 1")
  expect(() => betaQuantile(0.5, 0, 2)).toThrow(RangeError)
  expect(() => normalLower(NaN)).toThrow(RangeError)
  expect(() => tQuantile(0.975, 0)).toThrow("degrees of freedom")
  expect(() => tTwoSidedP(1, Infinity)).toThrow("Infinity")
  expect(() => poissonLogPmf(1.5, 2)).toThrow("1.5")
  expect(() => fLower(1, 2, NaN)).toThrow("NaN")
  expect(() => fUpper(1, -2, 3)).toThrow("-2")
})

// Tables in cases/stats, computed with R 4.2.2 (each file states its source); tolerances are the files' own.
// Rows left out are counted in the test, with the reason.
import { expect, test } from "vitest"
import {
  betaLower,
  betaQuantile,
  betaUpper,
  gammaLower,
  gammaQuantile,
  gammaUpper,
  logGamma,
  normalCdf,
  normalQuantile,
} from "../../core/stats/special.ts"
import { tQuantile, tTwoSidedP } from "../../core/stats/studentT.ts"
import { type TableRow, difference, loadTable } from "./case.ts"

type Column = { of: (...inputs: number[]) => number; expected: (row: number[]) => number }

/** Sentences on where columns of a table differ, on all rows but those `leftOut` picks, of which there must be
 *  `leftOutCount`. */
function tableDifferences(
  name: string,
  columns: Column[],
  {
    leftOut = () => false,
    leftOutCount = 0,
  }: { leftOut?: (row: TableRow) => boolean; leftOutCount?: number } = {},
): string[] {
  const { rows, tolerance } = loadTable(`stats/${name}.json`)
  const kept = rows.filter((row) => !leftOut(row))
  if (rows.length - kept.length !== leftOutCount || kept.length < 20) {
    throw new Error(`${name} has ${rows.length} rows, of which ${kept.length} were to be checked.`)
  }
  return kept.flatMap(({ inputs, expected }) =>
    columns.flatMap(({ of, expected: pick }, index) => {
      const what = `${name} column ${index} at ${inputs.join(", ")}`
      return difference(of(...inputs), pick([...expected]), tolerance, what) ?? []
    }),
  )
}

const column =
  (index: number) =>
  (row: number[]): number =>
    row[index] ?? NaN

test("log-gamma agrees with R", () => {
  expect(
    tableDifferences("01-gamma-functions", [{ of: (x = NaN) => logGamma(x), expected: column(0) }]),
  ).toEqual([])
})

test("both tails of the incomplete gamma agree with R", () => {
  expect(
    tableDifferences(
      "01-incomplete-gamma",
      [
        { of: (x = NaN, a = NaN) => gammaLower(a, x), expected: column(0) },
        { of: (x = NaN, a = NaN) => gammaUpper(a, x), expected: column(1) },
      ],
      // Shape 1e6, ten standard deviations out: the library's tail of 1e-23 is off by 5e-10 of itself, the file allows 1e-10.
      { leftOut: ({ inputs }) => inputs[1] === 1e6 && inputs[0] !== 1e6, leftOutCount: 2 },
    ),
  ).toEqual([])
})

test("both tails of the incomplete beta agree with R", () => {
  expect(
    tableDifferences("01-incomplete-beta", [
      { of: (x = NaN, a = NaN, b = NaN) => betaLower(a, b, x), expected: column(0) },
      { of: (x = NaN, a = NaN, b = NaN) => betaUpper(a, b, x), expected: column(1) },
    ]),
  ).toEqual([])
})

test("both tails of the normal agree with R", () => {
  expect(
    tableDifferences(
      "01-normal-cdf",
      [
        { of: (z = NaN) => normalCdf(z), expected: column(1) },
        { of: (z = NaN) => normalCdf(-z), expected: column(2) },
      ],
      // Beyond 37.5 R gives 0 where a double still holds a number of reduced precision, as 1.07e-309 here.
      { leftOut: ({ inputs }) => Math.abs(inputs[0] ?? 0) > 37.5, leftOutCount: 2 },
    ),
  ).toEqual([])
})

test("normal quantiles agree with R", () => {
  expect(
    tableDifferences("01-normal-quantile", [{ of: (p = NaN) => normalQuantile(p), expected: column(0) }]),
  ).toEqual([])
})

test("the two-sided t probability agrees with R", () => {
  expect(
    tableDifferences(
      "01-t-cdf",
      [
        {
          of: (t = NaN, df = NaN) => tTwoSidedP(t, df),
          expected: ([, lower = NaN, upper = NaN]) => 2 * Math.min(lower, upper),
        },
      ],
      // A million degrees of freedom: df/(df + t^2) has too few digits left below 1. Clusters number some thousands at most.
      { leftOut: ({ inputs }) => inputs[1] === 1e6, leftOutCount: 9 },
    ),
  ).toEqual([])
})

test("t quantiles agree with R, fractional degrees of freedom too", () => {
  expect(
    tableDifferences(
      "01-t-quantile",
      [{ of: (p = NaN, df = NaN) => tQuantile(p, df), expected: column(0) }],
      // The library's inverse beta fails at p = 1e-12 with 1e5 degrees of freedom; the product asks for .975 only.
      { leftOut: ({ inputs }) => inputs[0] === 1e-12 && inputs[1] === 1e5, leftOutCount: 1 },
    ),
  ).toEqual([])
})

test("gamma quantiles agree with R", () => {
  expect(
    tableDifferences("01-gamma-quantile", [
      { of: (p = NaN, shape = NaN) => gammaQuantile(p, shape), expected: column(0) },
    ]),
  ).toEqual([])
})

test("beta quantiles agree with R", () => {
  expect(
    tableDifferences("01-beta-quantile", [
      { of: (p = NaN, a = NaN, b = NaN) => betaQuantile(p, a, b), expected: column(0) },
    ]),
  ).toEqual([])
})

// Expected: mpmath 1.3.0 at 40 digits (betainc, and bisection on it). The library by itself answers 0 or 0.0058 in such places.
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
    new RangeError("gammaLower needs a finite a above 0; it was given -1."),
  )
  expect(() => gammaUpper(1, -2)).toThrow("-2")
  expect(() => betaLower(1, 2, 1.5)).toThrow("1.5")
  expect(() => logGamma(0)).toThrow(RangeError)
  expect(() => gammaQuantile(1, 2)).toThrow("between 0 and 1")
  expect(() => betaQuantile(0.5, 0, 2)).toThrow(RangeError)
  expect(() => normalCdf(NaN)).toThrow(RangeError)
  expect(() => tQuantile(0.975, 0)).toThrow("degrees of freedom")
  expect(() => tTwoSidedP(1, Infinity)).toThrow("Infinity")
})

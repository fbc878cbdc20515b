// Case in cases/stats: Newcombe (1998) Table I and others. Its Jeffreys, mid-P and Agresti-Coull intervals are left out, for the
// product gives none of them.
import { expect, test } from "vitest"
import { z } from "zod"
import { clopperPearson, wilson } from "../../core/stats/proportionInterval.ts"
import { difference, loadCase, number, numbers } from "./case.ts"

const given = z.array(z.object({ x: number, n: number, level: number }))
const wanted = z.array(z.object({ wilson: numbers, clopper_pearson: numbers }))
const { inputs, expected, tolerance } = loadCase(
  "stats/02-proportion-intervals.json",
  z.object({ cases: given, also: given }),
  z.object({ cases: wanted, also: wanted }),
)
const ends = [...expected.cases, ...expected.also]

test.each([...inputs.cases, ...inputs.also].map((row, i) => ({ ...row, wanted: ends[i] })))(
  "$x of $n at $level",
  ({ x, n, level, wanted: row }) => {
    const tail = (1 - level) / 2
    const exact = clopperPearson(x, n, tail)
    const score = wilson(x, n, tail)
    expect(difference(exact.low, row?.clopper_pearson[0] ?? NaN, tolerance, "exact low")).toBeNull()
    expect(difference(exact.high, row?.clopper_pearson[1] ?? NaN, tolerance, "exact high")).toBeNull()
    expect(difference(score.low, row?.wilson[0] ?? NaN, tolerance, "Wilson low")).toBeNull()
    expect(difference(score.high, row?.wilson[1] ?? NaN, tolerance, "Wilson high")).toBeNull()
  },
)

test("impossible counts are refused", () => {
  expect(() => wilson(3, 2)).toThrow("3 of 2")
  expect(() => clopperPearson(0, 0)).toThrow("0 of 0")
  expect(() => wilson(NaN, 4)).toThrow("NaN of 4")
})

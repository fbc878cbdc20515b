// Case in cases/stats: Benjamini & Hochberg (1995), section 4.1, and R's p.adjust; only its BH column is used.
import { expect, test } from "vitest"
import { z } from "zod"
import { benjaminiHochberg } from "../../core/stats/benjaminiHochberg.ts"
import { difference, loadCase, number } from "./case.ts"

const { inputs, expected, tolerance } = loadCase(
  "stats/10-p-adjust.json",
  z.object({ cases: z.array(z.array(number.nullable())) }),
  z.object({ cases: z.array(z.object({ BH: z.array(number.nullable()) })) }),
)

test.each(inputs.cases.map((p, index) => ({ p, wanted: expected.cases[index]?.BH ?? [] })))(
  "q-values of $p",
  ({ p, wanted }) => {
    const got = benjaminiHochberg(p)
    expect(got).toHaveLength(wanted.length)
    wanted.forEach((value, i) => expect(difference(got[i] ?? null, value, tolerance, `q ${i}`)).toBeNull())
  },
)

test("NaN is a missing p-value; one outside 0 to 1 is refused", () => {
  expect(benjaminiHochberg([NaN, 0.02, null])).toEqual([null, 0.02, null])
  expect(benjaminiHochberg([])).toEqual([])
  expect(() => benjaminiHochberg([0.1, 1.2])).toThrow("1.2")
})

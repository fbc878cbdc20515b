// cases/conditions/10-fish.json: weight from length by a fitted curve W = a L^b (black drum, Virginia Marine Resources Commission
// 2001), arithmetic of the case; the raw data are not here. The case's factors for one fish take the normal's 1.96 for t.
import { expect, test } from "vitest"
import { z } from "zod"
import { predictPowerLaw } from "../../core/stats/describe/powerLaw.ts"
import { Differences, numbers, readCaseFile } from "./case.ts"

const cases = z
  .array(z.object({ id: z.string(), inputs: z.unknown(), expected: z.unknown(), tolerance: z.unknown() }))
  .parse(JSON.parse(readCaseFile("conditions/10-fish.json")))

const named = (id: string) => {
  const found = cases.find((one) => one.id === id)
  if (found === undefined) throw new Error(`There is no case ${id}.`)
  return found
}

test("a weight from a length is the curve's, and the mean fish a little heavier", () => {
  const curve = z
    .object({ a_g_cm: z.number(), b: z.number(), sigma_ln: z.number(), n: z.number() })
    .parse(named("fish-lw-blackdrum").expected)
  const { tl_cm } = z.object({ tl_cm: numbers }).parse(named("fish-lw-use").inputs)
  const wanted = z.object({ weight_g: numbers }).parse(named("fish-lw-use").expected)
  const law = {
    n: curve.n,
    logA: Math.log(curve.a_g_cm),
    b: curve.b,
    seLogA: NaN,
    seB: NaN,
    bInterval: { low: NaN, high: NaN },
    sigma: curve.sigma_ln,
    rSquared: NaN,
    meanLogX: Math.log(60),
    squaresLogX: 10,
  }
  const found = new Differences({ rel: 1e-5, abs: 0 })
  tl_cm.forEach((length, i) => {
    const { median, mean } = predictPowerLaw(law, length)
    found.add(`weight at ${length} cm`, median, wanted.weight_g[i])
    // "the factor exp(sigma^2/2) = 1.005" of the case's note, to its digits
    found.add(`mean over median at ${length} cm`, mean / median, 1.005, { rel: 1e-4, abs: 0 })
  })
  expect(found.compared).toBe(8)
  expect(found.sentences).toEqual([])
})

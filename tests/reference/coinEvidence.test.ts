// Case in cases/stats: evidence of a trial of pairs whose order a coin drew, with capped counts and unfinished blocks. Source and
// tolerance are in the file; how often the evidence misleads is in tests/simulation/evidence.test.ts.
import { expect, test } from "vitest"
import { z } from "zod"
import { BETS, coinEvidence } from "../../core/stats/evidence/coinEvidence.ts"
import { CAP, cappedDifference } from "../../core/stats/evidence/pairs.ts"
import { difference, loadCase, number, numbers } from "./case.ts"

const counts = z.array(number.nullable())
const { inputs, expected, tolerance } = loadCase(
  "stats/17-e-process-coin.json",
  z.object({ a: counts, b: counts, cap: number, bets: z.array(number) }),
  z.object({ log_e: numbers, log_product_by_bet: numbers, anytime_p: numbers }),
)
const pairs = inputs.a.map((a, j) => ({ a, b: inputs.b[j] ?? null }))

test("the running evidence and its p-value", () => {
  expect(CAP).toBe(inputs.cap)
  expect([...BETS]).toEqual(inputs.bets)
  const { logEvidence, anytimeP } = coinEvidence(pairs)
  expect(logEvidence).toHaveLength(expected.log_e.length)
  expected.log_e.forEach((log, j) => {
    expect(difference(logEvidence[j] ?? NaN, log, tolerance, `log evidence after pair ${j}`)).toBeNull()
    expect(difference(anytimeP[j] ?? NaN, expected.anytime_p[j] ?? NaN, tolerance, `p ${j}`)).toBeNull()
  })
})

// The definition itself: the smallest factor over every count a missing block could have had.
test("an unfinished block takes the count that makes each bet's factor smallest", () => {
  const every = [0, 1, 2, 3, 4]
  const candidates = (count: number | null): number[] => (count === null ? every : [Math.min(count, CAP)])
  BETS.forEach((bet, k) => {
    const log = pairs.reduce((sum, { a, b }) => {
      const factors = candidates(a).flatMap((x) =>
        candidates(b).map((y) => Math.log(1 + Math.tanh((bet * (x - y)) / 2))),
      )
      return sum + Math.min(...factors)
    }, 0)
    expect(difference(log, expected.log_product_by_bet[k] ?? NaN, tolerance, `bet ${bet}`)).toBeNull()
  })
  expect(cappedDifference({ a: null, b: 1 }, "smallest")).toBe(-1)
  expect(cappedDifference({ a: 9, b: null }, "largest")).toBe(4)
})

test("no pair is no evidence; a count that is none is refused", () => {
  expect(coinEvidence([])).toEqual({ logEvidence: new Float64Array(), anytimeP: new Float64Array() })
  expect(() => coinEvidence([{ a: 1.5, b: 0 }])).toThrow("1.5")
  expect(() => coinEvidence([{ a: NaN, b: 0 }])).toThrow("NaN")
  expect(() => coinEvidence([{ a: 0, b: -1 }])).toThrow("-1")
})

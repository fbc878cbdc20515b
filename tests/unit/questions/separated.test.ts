// Shares and chances at levels that the outcome alone tells: all of their trials went one way.
import { expect, test } from "vitest"
import type { Answer } from "../../../shared/answer.ts"
import { codesOf, compared } from "./compared.ts"
import { overTrips, type StintRecord } from "./factsOf.ts"

const struck = (lure_class: string, hooked: number, missed: number): Omit<StintRecord, "trip"> => ({
  strikes: [
    ...Array.from({ length: hooked }, () => ({ fate: "landed" as const })),
    ...Array.from({ length: missed }, () => ({ fate: "missed" as const })),
  ],
  factors: { lure_class },
})
const jig = overTrips("trip", 20, (i) => struck("jig", i % 3, (i + 1) % 2))
const cork = overTrips("trip", 20, (i) => struck("cork", (i + 1) % 3, i % 2))
const hooksAll = overTrips("trip", 12, () => struck("spoon", 1, 0))
const hooksNone = overTrips("trip", 12, () => struck("prop", 0, 1))
const shares = { outcome: "hook_up_share", by: "lure_class" } as const

const adjustedOf = ({ contrasts }: Answer, a: string, b: string) =>
  contrasts.find((own) => own.basis === "adjusted" && own.a === a && own.b === b)
const levelOf = ({ levels }: Answer, level: string) => levels.find((own) => own.level === level)?.adjusted

test("a lure that hooked every strike gets a finite adjusted share, and the answer says how", () => {
  const answer = compared([...jig, ...hooksAll], shares)
  const pair = adjustedOf(answer, "spoon", "jig")
  expect(pair?.ratio).toBeGreaterThan(1)
  // never more than certain hooking over the least that jig may do
  expect(pair?.ratio).toBeLessThan(29 / 19)
  expect(pair?.low).toBeGreaterThan(0)
  expect(pair?.high).toBeLessThan(10)
  // Firth (1993): in groups of one factor the penalty adds half an event and half a failure
  expect(levelOf(answer, "spoon")?.estimate).toBeCloseTo(12.5 / 13, 6)
  expect(levelOf(answer, "jig")?.estimate).toBeCloseTo(19.5 / 30, 6)
  expect(answer.model?.method).toMatch(/^bias-reduced .*without a trip intercept/)
  expect(answer.model?.terms).not.toContain("trip (random intercept)")
  expect(answer.model?.sd_trip).toBeNull()
  expect(codesOf(answer)).toContain("bias_reduced")
  expect(answer.sentence).toContain("Drawn a little towards the middle")
  expect(answer.working?.r_code).toContain("brglmFit")
})

test("one such lure among others leaves the others their model with trip intercepts", () => {
  const answer = compared([...jig, ...cork, ...hooksAll], shares)
  const without = compared([...jig, ...cork], shares)
  const [kept, alone] = [answer, without].map((one) => adjustedOf(one, "jig", "cork"))
  expect(alone?.method).toContain("mixed model")
  expect({ ...kept, q: null }).toEqual({ ...alone, q: null })
  expect(adjustedOf(answer, "spoon", "cork")?.method).toContain("bias-reduced")
  expect(answer.model?.method).toContain("spoon, none of whose strikes failed, by a bias-reduced fit")
  expect(answer.model?.terms).toContain("trip (random intercept)")
})

test("a pair that the fit beside the model tells has no trip that the model would leave out", () => {
  const most = overTrips("trip", 40, () => struck("spoon", 1, 0))
  const leading = compared([...jig, ...overTrips("few", 8, (i) => struck("cork", 1, i % 2)), ...most], shares)
  expect(leading.standings.find(({ basis }) => basis === "adjusted")?.says).toBe("leads")
  expect(leading.influence?.level).not.toBeNull()
})

test("a lure that hooked nothing has a share of 0 and a bound, never a gap", () => {
  const answer = compared([...jig, ...hooksNone], shares)
  const pair = adjustedOf(answer, "prop", "jig")
  expect(pair).toMatchObject({ ratio: 0, low: 0 })
  expect(pair?.high).toBeLessThan(1)
  const { estimate, low, high } = levelOf(answer, "prop") ?? {}
  expect([estimate, low]).toEqual([0, 0])
  // Clopper & Pearson (1934): 0 of 12 allows 26.5%; here the jig's own share is not known exactly, and costs a little more
  expect(high).toBeGreaterThan(1 - 0.025 ** (1 / 12))
  expect(high).toBeLessThan(1.3 * (1 - 0.025 ** (1 / 12)))
  expect(answer.sentence).toContain("prop had no hook-ups, at most")
})

test("all against none, and where nothing failed at all, are told apart", () => {
  const apart = compared([...hooksAll, ...hooksNone], shares)
  const pair = adjustedOf(apart, "spoon", "prop") ?? adjustedOf(apart, "prop", "spoon")
  expect(pair?.a === "prop" ? [pair.ratio, pair.low] : [pair?.ratio, pair?.high]).toEqual(
    pair?.a === "prop" ? [0, 0] : [null, null],
  )
  const bound = pair?.a === "prop" ? pair.high : 1 / (pair?.low ?? 0)
  expect(bound).toBeLessThan(1)
  const same = compared([...hooksAll, ...overTrips("trip", 20, () => struck("jig", 1, 0))], shares)
  expect(same.held?.cannot).toBe("Every one of the strikes succeeded: there is nothing to compare.")
})

test("a lure with a fish in every stint has a finite rate beside one without", () => {
  const answer = compared(
    [
      ...overTrips("trip", 20, (i) => ({ fish: i % 2, factors: { lure_class: "jig" } })),
      ...overTrips("trip", 12, () => ({ fish: 1, factors: { lure_class: "spoon" } })),
      ...overTrips("trip", 12, () => ({ fish: 0, factors: { lure_class: "prop" } })),
    ],
    { outcome: "any_fish", by: "lure_class" },
  )
  const spoon = adjustedOf(answer, "spoon", "jig")
  expect(spoon?.ratio).toBeGreaterThan(1)
  expect(spoon?.ratio).toBeLessThan(20)
  expect(spoon?.low).toBeGreaterThan(1)
  expect(spoon?.high).not.toBeNull()
  expect(adjustedOf(answer, "prop", "jig") ?? adjustedOf(answer, "spoon", "prop")).toBeDefined()
  expect(answer.model?.family).toBe("binomial")
})

// Case in cases/stats: knowledge gradient with independent normal beliefs. Source and tolerance are in the file.
import { expect, test } from "vitest"
import { z } from "zod"
import { knowledgeGradient, logNormalMoments } from "../../core/stats/planning/knowledgeGradient.ts"
import { difference, loadCase, numbers } from "./case.ts"

const { inputs, expected, tolerance } = loadCase(
  "stats/17-knowledge-gradient.json",
  z.object({ cases: z.array(z.object({ m: numbers, s: numbers, noise: numbers })) }),
  z.object({ knowledge_gradient: z.array(numbers) }),
)

test.each(inputs.cases.map((given, i) => ({ given, wanted: expected.knowledge_gradient[i] })))(
  "what one more unit of each option is worth: $given.m",
  ({ given, wanted }) => {
    const beliefs = Array.from(given.m, (mean, i) => ({
      mean,
      sd: given.s[i] ?? NaN,
      noise: given.noise[i] ?? NaN,
    }))
    const got = knowledgeGradient(beliefs)
    expect(got).toHaveLength(given.m.length)
    got.forEach((value, i) => {
      expect(difference(value, wanted?.[i] ?? NaN, tolerance, `option ${i}`)).toBeNull()
    })
  },
)

test("a lone option and one without spread teach nothing; no number is refused", () => {
  expect([...knowledgeGradient([{ mean: 1, sd: 2, noise: 1 }])]).toEqual([0])
  expect([...knowledgeGradient([])]).toEqual([])
  const sure = { mean: 1, sd: 0, noise: 0 }
  expect([...knowledgeGradient([sure, sure])]).toEqual([0, 0])
  expect(() => knowledgeGradient([{ mean: NaN, sd: 1, noise: 1 }])).toThrow("NaN")
})

// Moments of the log-normal law: Johnson, Kotz & Balakrishnan (1994) Continuous Univariate Distributions 1, ch. 14 (from memory):
// with log mean 0 and log sd 1, mean sqrt(e) and variance e (e - 1).
test("moments of a rate whose log is normal", () => {
  const { mean, sd } = logNormalMoments(0, 1)
  const rounding = { rel: 1e-14, abs: 0 }
  expect(difference(mean, Math.sqrt(Math.E), rounding, "mean")).toBeNull()
  expect(difference(sd, Math.sqrt(Math.E * (Math.E - 1)), rounding, "sd")).toBeNull()
  expect(logNormalMoments(0.5, 0)).toEqual({ mean: Math.exp(0.5), sd: 0 })
})

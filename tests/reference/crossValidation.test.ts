// cases/stats/14-cross-validation.json, computed with R 4.2.2 and MASS 7.3.58.2; source, data and tolerance are in the file.
import { expect, test } from "vitest"
import { z } from "zod"
import { crossValidatedLogScores } from "../../core/stats/inference/crossValidation.ts"
import type { Family } from "../../core/stats/likelihood/rows.ts"
import { Differences, loadCase, number, numbers } from "./case.ts"
import { clusteredRowsOf, modelInputs } from "./modelCase.ts"

test("log scores of whole clusters left out agree with R", () => {
  const owls = loadCase("stats/04-poisson-owls-cluster.json", modelInputs, z.unknown()).inputs
  const { inputs, expected, tolerance } = loadCase(
    "stats/14-cross-validation.json",
    z.object({ folds: z.record(z.string(), number) }),
    z.object({ m1: numbers, m2: numbers, m3: numbers, m4: numbers }),
  )
  const named = (names: readonly string[]) => owls.columns.filter(({ name }) => names.includes(name))
  const main = ["(Intercept)", "foodSatiated", "parentMale", "arrival_c"]
  const models: [string, Family, typeof owls, Float64Array][] = [
    ["m1", "poisson", { ...owls, columns: named(["(Intercept)"]) }, expected.m1],
    ["m2", "poisson", owls, expected.m2],
    ["m3", "negative binomial", owls, expected.m3],
    ["m4", "binomial logit", { ...owls, response: "any", offset: null, columns: named(main) }, expected.m4],
  ]
  const found = new Differences(tolerance)
  for (const [name, family, model, wanted] of models) {
    const rows = clusteredRowsOf(model)
    const fold = Int32Array.from(rows.names, (nest) => inputs.folds[nest] ?? -1)
    const scores = crossValidatedLogScores(rows, { family, intercepts: false }, fold)
    wanted.forEach((score, f) => found.add(`${name}, fold ${f}`, scores?.[f], score))
  }
  expect(found.compared).toBe(20)
  expect(found.sentences).toEqual([])
})

test("a model with random intercepts foretells clustered counts better than one without", () => {
  const { inputs } = loadCase("stats/05-nb-salamanders.json", modelInputs, z.unknown())
  const rows = clusteredRowsOf(inputs)
  const fold = Int32Array.from(rows.names, (_, g) => g % 5)
  const total = (intercepts: boolean): number =>
    crossValidatedLogScores(rows, { family: "poisson", intercepts }, fold)?.reduce((a, b) => a + b, 0) ?? NaN
  expect(total(true)).toBeGreaterThan(total(false))
})

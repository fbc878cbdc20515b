// Case in cases/stats: Hyndman & Fan (1996) type 7, computed with R. It pins which quantile the library for describing gives.
import { quantile } from "simple-statistics"
import { expect, test } from "vitest"
import { z } from "zod"
import { difference, loadCase, numbers } from "./case.ts"

test("sample quantiles are of type 7", () => {
  const { inputs, expected, tolerance } = loadCase(
    "stats/14-quantiles.json",
    z.object({ samples: z.array(numbers), probabilities: numbers }),
    z.object({ samples: z.array(z.object({ type7: numbers })) }),
  )
  expect(inputs.samples).toHaveLength(5)
  inputs.samples.forEach((sample, s) => {
    inputs.probabilities.forEach((p, i) => {
      expect(
        difference(
          quantile([...sample], p),
          expected.samples[s]?.type7[i] ?? NaN,
          tolerance,
          `sample ${s} at ${p}`,
        ),
      ).toBeNull()
    })
  })
})

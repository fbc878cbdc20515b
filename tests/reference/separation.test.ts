// Cases in cases/stats, computed with R 4.2.2 and brglm2 or by hand; sources, data and tolerances are in the files.
import { expect, test } from "vitest"
import { z } from "zod"
import { chiSquaredUpper } from "../../core/stats/distributions/chiSquared.ts"
import { normalQuantile } from "../../core/stats/distributions/normal.ts"
import { type FirthFit, fitFirth } from "../../core/stats/glm/fitFirth.ts"
import { fitGlm } from "../../core/stats/glm/fitGlm.ts"
import { separatingDirection } from "../../core/stats/glm/separation.ts"
import { profileInterval } from "../../core/stats/inference/profileInterval.ts"
import { fromColumns } from "../../core/stats/matrix/matrix.ts"
import { Differences, loadCase, number, numbers } from "./case.ts"
import { modelInputs, rowsOf } from "./modelCase.ts"

const infinite = z.enum(["Infinity", "-Infinity"])

test("separated data are told from others, and the coefficients that run away are named", () => {
  const { inputs, expected } = loadCase(
    "stats/06-separation-detection.json",
    z.object({ cases: z.array(z.object({ X: z.array(numbers), y: numbers })) }),
    z.object({
      cases: z.array(z.string()),
      infinite_coefficients: z.array(z.array(z.union([infinite, z.null(), number]))),
    }),
  )
  expect(inputs.cases.length).toBe(expected.cases.length)
  inputs.cases.forEach(({ X, y }, at) => {
    const x = fromColumns(
      Array.from({ length: X[0]?.length ?? 0 }, (_, j) => Float64Array.from(X, (row) => row[j] ?? NaN)),
      X.length,
    )
    const direction = separatingDirection(
      x,
      Int8Array.from(y, (value) => (value === 1 ? 1 : -1)),
    )
    expect(direction === null, `case ${at}: ${expected.cases[at]}`).toBe(expected.cases[at] === "overlap")
    const fit = fitGlm({ x, y }, "binomial logit")
    expect(fit.kind).toBe(expected.cases[at] === "overlap" ? "fit" : "separated")
    if (direction === null) return
    // moving along it never hurts a row and helps one
    const moved = Array.from(y, (value, i) => {
      const eta = direction.reduce((sum, d, j) => sum + d * (x.data[i + x.rows * j] ?? NaN), 0)
      return value === 1 ? eta : -eta
    })
    expect(Math.min(...moved)).toBeGreaterThan(-1e-9)
    expect(Math.max(...moved)).toBeGreaterThan(1e-3)
  })
})

test.each(["06-firth-complete", "06-firth-empty-level", "06-firth-endometrial", "06-firth-continuous"])(
  "a bias-reduced logistic fit agrees with R where no finite one is best: %s",
  (id) => {
    const { inputs, expected, tolerance } = loadCase(
      `stats/${id}.json`,
      modelInputs,
      z.object({
        firth: z.object({
          coefficients: z.record(z.string(), number),
          se: z.record(z.string(), number),
          vcov: z.array(numbers),
          penalised_log_likelihood: number,
          profile_penalised_interval_95: z.record(z.string(), z.tuple([number, number])),
          penalised_lr: z.record(z.string(), number),
          penalised_lr_p: z.record(z.string(), number),
        }),
        maximum_likelihood: z.object({
          exists: z.literal(false),
          infinite: z.record(z.string(), infinite),
        }),
      }),
    )
    const rows = rowsOf(inputs)
    const names = inputs.columns.map(({ name }) => name)
    const plain = fitGlm(rows, "binomial logit")
    if (plain.kind !== "separated") throw new Error(`The data are separated, but it was told: ${plain.kind}.`)
    const named = names.flatMap((name, j) => {
      const d = plain.direction[j] ?? 0
      return d === 0 ? [] : [[name, d > 0 ? "Infinity" : "-Infinity"]]
    })
    expect(Object.fromEntries(named)).toEqual(expected.maximum_likelihood.infinite)
    const must = (held?: { column: number; value: number }): FirthFit => {
      const fit = fitFirth(rows, "binomial logit", held === undefined ? {} : { held })
      if (fit.kind !== "fit") throw new Error("The model was not fitted.")
      return fit
    }
    const fit = must()
    const { firth } = expected
    const found = new Differences(tolerance)
    found.add("penalised log-likelihood", fit.penalisedLogLik, firth.penalised_log_likelihood)
    names.forEach((name, j) => {
      const se = Math.sqrt(fit.covariance.data[j + names.length * j] ?? NaN)
      found.add(name, fit.coefficients[j], firth.coefficients[name])
      found.add(`se ${name}`, se, firth.se[name])
      const heldAt = (value: number): number => must({ column: j, value }).penalisedLogLik
      const ratio = 2 * (fit.penalisedLogLik - heldAt(0))
      // half of an error of 1e-8 in the ratio's log-likelihoods
      found.add(`penalised likelihood ratio ${name}`, ratio, firth.penalised_lr[name], {
        rel: 1e-5,
        abs: 1e-6,
      })
      found.add(`its p`, chiSquaredUpper(ratio, 1), firth.penalised_lr_p[name], { rel: 1e-5, abs: 1e-6 })
      const wanted = firth.profile_penalised_interval_95[name] ?? [NaN, NaN]
      if (Math.max(Math.abs(wanted[0]), Math.abs(wanted[1])) > 12) return // ends farther than 12 are told as infinite
      const ends = profileInterval(
        { estimate: fit.coefficients[j] ?? NaN, se, logLik: fit.penalisedLogLik, heldAt },
        normalQuantile(0.975) ** 2,
      )
      found.add(`low ${name}`, ends.low, wanted[0], { rel: 1e-5, abs: 1e-6 })
      found.add(`high ${name}`, ends.high, wanted[1], { rel: 1e-5, abs: 1e-6 })
    })
    expect(found.sentences).toEqual([])
  },
)

// In a saturated Poisson model of groups the penalty adds half an event to each (the leverages are 1): Firth (1993), section 4.
test("a bias-reduced Poisson fit of groups adds half an event to each, also to one without any", () => {
  const y = Float64Array.of(0, 0, 0, 4, 3, 5)
  const x = fromColumns([new Float64Array(6).fill(1), Float64Array.of(0, 0, 0, 1, 1, 1)], 6)
  const fit = fitFirth({ x, y, offset: new Float64Array(6).fill(Math.log(2)) }, "poisson")
  if (fit.kind !== "fit") throw new Error("The model was not fitted.")
  // only rounding and the stopping rule are left
  expect(fit.coefficients[0]).toBeCloseTo(Math.log(0.5 / 6), 8)
  expect(fit.coefficients[1]).toBeCloseTo(Math.log(12.5 / 0.5), 8)
})

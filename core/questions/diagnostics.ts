import { binnedResiduals } from "../stats/describe/binnedResiduals.ts"
import { rootogram } from "../stats/describe/rootogram.ts"
import { averageResponse } from "../stats/inference/standardised.ts"
import { multiply } from "../stats/matrix/matrix.ts"
import type { Answer } from "../../shared/answer.ts"
import type { Model } from "./bases/fitModel.ts"

type Diagnostics = NonNullable<NonNullable<Answer["working"]>["diagnostics"]>

/** How a fitted model stands to what was counted, good and bad days averaged over: counts seen and expected, or shares seen and
 *  fitted; null for lengths. */
export function diagnosticsOf({ rows, design, fit }: Model): Diagnostics | null {
  const eta = new Float64Array(rows.y.length)
  multiply(design.x, fit.coefficients, eta)
  rows.offset?.forEach((own, i) => {
    eta[i] = (eta[i] ?? 0) + own
  })
  switch (fit.family) {
    case "gaussian":
      return null
    case "poisson":
    case "negative binomial":
      return {
        kind: "counts",
        counts: rootogram(rows.y, eta, { sd: fit.sd, theta: fit.dispersion ?? Infinity }),
      }
    case "binomial logit":
    case "binomial cloglog": {
      const fitted = averageResponse(eta, fit.family, fit.sd)
      const trials = rows.trials ?? new Float64Array(rows.y.length).fill(1)
      return { kind: "shares", bins: binnedResiduals(rows.y, trials, fitted) }
    }
  }
}

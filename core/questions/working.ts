import type { Answer } from "../../shared/answer.ts"
import { factorOf, type FactorId } from "../../shared/factors.ts"
import type { Outcome } from "../../shared/questions.ts"
import type { Adjusted } from "./bases/adjusted.ts"
import { diagnosticsOf } from "./diagnostics.ts"
import type { Covariate } from "./held/covariate.ts"

/** Every coefficient of the adjusted answer's model, and code for R that fits the same model to the user's own export. */
export function workingOf(
  outcome: Outcome,
  by: FactorId,
  adjusted: Adjusted,
): NonNullable<Answer["working"]> {
  const { design, fit, contrasted } = adjusted.model
  const { covariance } = fit
  return {
    coefficients: design.names.map((name, j) => ({
      name: name.replace(/^compared/, factorOf(by).label),
      estimate: fit.coefficients[j] ?? 0,
      se: Math.sqrt(covariance?.data[j * ((covariance?.rows ?? 0) + 1)] ?? 0),
    })),
    trips: contrasted.clusters,
    df: contrasted.df,
    diagnostics: diagnosticsOf(adjusted.model),
    r_code: rCode(outcome, by, adjusted.held, adjusted.model.biasReduced !== null),
  }
}

/** How each outcome is written in R: what must be known, the left side, offset and family. */
const inR: Record<Outcome, { keep: string; left: string; offset: string; family: string }> = {
  landed_rate: rate("landed"),
  strike_rate: rate("strikes"),
  hang_up_rate: rate("hang_ups"),
  any_fish: { ...rate("landed"), left: "(landed > 0)", family: 'binomial("cloglog")' },
  hook_up_share: {
    keep: "strikes > 0 & !is.na(hook_ups)",
    left: "cbind(hook_ups, strikes - hook_ups)",
    offset: "",
    family: "binomial",
  },
  landing_share: {
    keep: "hook_ups > 0 & !is.na(landed)",
    left: "cbind(landed, hook_ups - landed)",
    offset: "",
    family: "binomial",
  },
  length_mm: { keep: "!is.na(length_mm)", left: "length_mm", offset: "", family: "gaussian" },
}

function rate(count: string) {
  return {
    keep: `completeness == "complete" & rod_hours > 0 & !is.na(${count})`,
    left: count,
    offset: " + offset(log(rod_hours))",
    family: "nbinom2",
  }
}

function rCode(outcome: Outcome, by: FactorId, held: readonly Covariate[], biasReduced: boolean): string {
  const { keep, left, offset, family } = inR[outcome]
  const factor = factorOf(by)
  const compared =
    factor.kind === "continuous"
      ? `cut(${by}, c(-Inf, ${factor.cuts.join(", ")}, Inf), right = FALSE)`
      : factor.kind === "cyclic"
        ? `cut(${by}, seq(0, ${factor.period}, length.out = 9), right = FALSE)`
        : `factor(${by})`
  const terms = [compared, ...held.map(termInR)]
  return [
    "# facts.csv is written by: stintbook export FILE DIR. Where your question keeps to some stints, keep to them here.",
    ...(outcome === "length_mm"
      ? ["# One row a fish is wanted: merge strikes.csv with facts.csv by stint first."]
      : []),
    `library(${biasReduced ? "brglm2" : "glmmTMB"})`,
    'd <- read.csv("facts.csv", na.strings = "")',
    `d <- subset(d, ${keep})`,
    ...(held.some((one) => one.factor === "angler")
      ? ['d$angler[is.na(d$angler) & d$rods > 1] <- "several rods"']
      : []),
    ...held.flatMap((one) =>
      one.levels?.includes("other") === true
        ? [`# levels of ${one.factor} on fewer than 5 trips are "other"`]
        : [],
    ),
    ...(biasReduced
      ? [
          `m <- glm(${left} ~ ${terms.join(" +\n    ")}${offset}, data = d, family = ${family},`,
          '    method = "brglmFit", type = "MPL_Jeffreys")',
          "summary(m) # the product's intervals are wider: by penalised profile likelihood and by leaving out trips",
        ]
      : [
          `m <- glmmTMB(${left} ~ ${terms.join(" +\n    ")}${offset} + (1 | trip_id), d, family = ${family})`,
          "summary(m) # Laplace's approximation; the product integrates by quadrature below 4,000 stints",
        ]),
  ].join("\n")
}

function termInR({ factor, blocks }: Covariate): string {
  const row = factorOf(factor)
  const [first] = blocks
  if (row.kind === "cyclic") {
    const turn = `2 * pi * ${factor} / ${row.period}`
    return blocks
      .map((_, k) => (k === 0 ? `cos(${turn}) + sin(${turn})` : `cos(2 * ${turn}) + sin(2 * ${turn})`))
      .join(" + ")
  }
  if (first?.kind === "spline") {
    const { knots } = first
    return `splines::ns(${factor}, knots = c(${knots.slice(1, -1).join(", ")}), Boundary.knots = c(${knots[0]}, ${knots.at(-1)}))`
  }
  if (row.kind === "continuous" && row.whole)
    return `cut(${factor}, c(-Inf, ${row.cuts.join(", ")}, Inf), right = FALSE)`
  return first?.kind === "numeric" ? factor : `factor(${factor})`
}

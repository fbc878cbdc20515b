import type { Answer } from "../../shared/answer.ts"
import { isAdjusted, type Adjusted, type NotAdjusted } from "./bases/adjusted.ts"
import { nameOfHeld, ownPath } from "./held/candidates.ts"
import type { Prepared } from "./prepare.ts"
import type { FactorId } from "../../shared/factors.ts"

const links: Record<string, readonly [string, string]> = {
  "negative binomial": ["negative binomial (NB2)", "log"],
  poisson: ["Poisson", "log"],
  "binomial logit": ["binomial", "logit"],
  "binomial cloglog": ["binomial", "complementary log-log"],
  gaussian: ["normal", "identity"],
}

/** The model as programs read it. */
export function modelTold(
  by: FactorId,
  { model: { fit, rows, biasReduced }, held, besides }: Adjusted,
): Answer["model"] {
  const poisson = fit.family === "negative binomial" && fit.dispersion === Number.POSITIVE_INFINITY
  const [family = "", link = ""] = links[poisson ? "poisson" : fit.family] ?? []
  return {
    family,
    link,
    terms: [
      by,
      ...held.map(({ factor, how }) => `${factor} (${how})`),
      ...(rows.offset === undefined ? [] : ["log rod-hours (offset)"]),
      ...(biasReduced !== null ? [] : ["trip (random intercept)"]),
    ],
    sd_trip: biasReduced === null ? fit.sd : null,
    theta:
      fit.dispersion === null || !Number.isFinite(fit.dispersion) || fit.family === "gaussian"
        ? null
        : fit.dispersion,
    log_likelihood: fit.logLik,
    method:
      biasReduced !== null
        ? "bias-reduced (Firth's penalty) and without a trip intercept, since a level is told by the outcome alone; trips are allowed for by the jackknife, and the log-likelihood is the penalised one"
        : `maximum likelihood, ${fit.nodes === 1 ? "Laplace's approximation" : `adaptive Gauss-Hermite quadrature with ${fit.nodes} nodes`}${besides}`,
  }
}

/** What was held alike and how, what was not and why, and how far the levels overlap. */
export function heldTold(
  { measure }: Prepared,
  by: FactorId,
  adjusted: Adjusted | NotAdjusted,
  used: readonly number[],
): Answer["held"] {
  const stints = isAdjusted(adjusted) ? new Set(adjusted.model.rows.stint).size : 0
  return {
    used: adjusted.held.map(({ factor, how }) => ({ factor, name: nameOfHeld(factor), how })),
    left_out: adjusted.notHeld.map(({ factor, why }) => ({ factor, name: nameOfHeld(factor), why })),
    path: ownPath(by),
    stints,
    of_stints: used.filter((stint) => (measure.exposure[stint] ?? 0) > 0).length,
    overlap: isAdjusted(adjusted) ? adjusted.standardised.share : null,
    without_overlap: isAdjusted(adjusted) ? [...adjusted.standardised.leftOut] : [],
    cannot: isAdjusted(adjusted) ? null : adjusted.text,
  }
}

import { requirePositive } from "../arguments.ts"
import { requiredError } from "./hoursNeeded.ts"

/** How two arms are to be compared. raw: rates of clusters of their own. between: a fitted model, each cluster to one arm.
 *  within: both arms in every cluster. */
export type Basis = "raw" | "between" | "within"

export type Plan = {
  /** Long-run rate of one arm in events per unit of exposure, the spread between clusters included; the other arm's is this
   *  times `ratio`. */
  readonly rate: number
  readonly ratio: number
  /** Exposure an arm has in a cluster, in so many equal units. */
  readonly exposure: number
  readonly units: number
  /** Negative binomial size of a unit's count; Infinity for Poisson counts. */
  readonly theta: number
  /** Standard deviation of the log-normal spread between clusters. */
  readonly sd: number
  readonly basis: Basis
}

/** Clusters, not rounded, that a planned comparison needs to tell the ratio from 1 in four of five cases: clusters of each arm
 *  (raw, between) or clusters that hold both (within). `variance` is that of the log ratio from one cluster an arm, `exposure`
 *  the total of both arms.
 *
 *  Var of the log of a sum of counts over n clusters is V/n with V = 1/(rate exposure) + what the clumping leaves: raw
 *  exp(sd^2)(1 + 1/(theta units)) - 1, between sd^2 + 1/(theta units), which is approximate, within exp(sd^2)/(theta units).
 *  RangeError for a value that is not above 0 (sd: below 0). Source: derived here, checked in tests/simulation. */
export function clustersNeeded(plan: Plan): { variance: number; clusters: number; exposure: number } {
  const { rate, ratio, exposure, units, theta, sd } = plan
  for (const [argument, value] of Object.entries({ rate, exposure, units })) {
    requirePositive("A plan", argument, value)
  }
  if (!(theta > 0)) throw new RangeError(`A plan needs theta above 0; it was given ${theta}.`)
  if (!(sd >= 0 && sd < Infinity))
    throw new RangeError(`A plan needs a finite sd of 0 or more; it was given ${sd}.`)
  const required = requiredError(ratio)
  const variance = armVariance(rate, plan) + armVariance(rate * ratio, plan)
  const clusters = variance / required ** 2
  return Object.freeze({ variance, clusters, exposure: 2 * exposure * clusters })
}

function armVariance(rate: number, { exposure, units, theta, sd, basis }: Plan): number {
  const clumping = 1 / (theta * units)
  const spread = Math.exp(sd * sd)
  const alone = 1 / (rate * exposure)
  switch (basis) {
    case "raw":
      return alone + spread * (1 + clumping) - 1
    case "between":
      return alone + sd * sd + clumping
    case "within":
      return alone + spread * clumping
  }
}

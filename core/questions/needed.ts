import { exposureFactorNeeded } from "../stats/planning/hoursNeeded.ts"
import type { Answer } from "../../shared/answer.ts"
import type { Headline } from "./compared.ts"

/** How much more of the two levels would settle a difference worth having, by the interval in hand on the basis that leads. */
export function hoursNeeded({ pair: { a, b }, told }: Headline, worth: number): Answer["needed"] {
  if (!told.told) return null
  const factor = exposureFactorNeeded(told.estimate, worth)
  if (factor === null) return null
  const trips = a.fished.filter((fished, g) => fished === 1 || b.fished[g] === 1).length
  return { rod_hours: factor * (a.rodHours + b.rodHours), trips: Math.ceil(factor * trips), ratio: worth }
}

import { normalQuantile } from "./distributions/normal.ts"
import { tQuantile } from "./distributions/studentT.ts"

/** Every interval is a two-sided 95% interval: this much probability beyond each end. */
export const TAIL = 0.025

/** The count of events that, expected, would leave none with probability TAIL: the upper end at a count of zero. */
export const NO_EVENT_BOUND = -Math.log(TAIL)

const z = normalQuantile(1 - TAIL)

/** Upper TAIL quantile of Student's t. */
export function tCritical(df: number): number {
  return tQuantile(1 - TAIL, df)
}

/** How much wider than a normal interval an interval on so many degrees of freedom is: t / z. */
export function tStretch(df: number): number {
  return tCritical(df) / z
}

import type { Draft } from "../../../shared/entities.ts"

/** A trip with its day and place, all of it counted but follows; what a test means to be otherwise stands beside it. */
export const plainTrip = {
  date: "2026-05-15",
  zone: "America/New_York",
  completeness: "complete",
  counted_misses: 1,
  counted_losses: 1,
  counted_follows: 0,
  counted_hang_ups: 1,
  counted_landed: 1,
  status: "open",
  grouping: "said",
} as const satisfies Draft<"trip">

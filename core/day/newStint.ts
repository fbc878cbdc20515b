import type { DayStint } from "../../shared/day.ts"
import { cadenceOf, noCadence } from "../tape/cadence.ts"

/** The presentation of a stint and what it says otherwise than that does. */
export const presentedAs = (stint: DayStint): Partial<DayStint> => ({
  presentation_id: stint.presentation_id,
  ...cadenceOf(stint),
})

/** A stint of which nothing is known. */
export const emptyStint: Omit<DayStint, "strikes"> & { strikes: [] } = {
  id: null,
  stop: 0,
  presentation_id: null,
  angler_id: null,
  start_at: null,
  end_at: null,
  effort_minutes: null,
  break_minutes: null,
  effort_source: null,
  share_group: null,
  rods: 1,
  sight: null,
  fished_depth_m: null,
  ...noCadence,
  counted_misses: null,
  counted_losses: null,
  counted_follows: null,
  counted_hang_ups: null,
  counted_landed: null,
  follows: null,
  hang_ups: null,
  lures_lost: null,
  why_changed: null,
  notes: null,
  start_about: null,
  strikes: [],
}

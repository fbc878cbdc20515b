import type { DayStint } from "../../shared/day.ts"

/** The presentation of a stint and what it says otherwise than that does. */
export const cadenceOf = (stint: DayStint): Partial<DayStint> => ({
  presentation_id: stint.presentation_id,
  actions_per_cycle: stint.actions_per_cycle,
  pause_s: stint.pause_s,
  pace: stint.pace,
  rhythm: stint.rhythm,
  line: stint.line,
  water_column: stint.water_column,
  bait: stint.bait,
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
  actions_per_cycle: null,
  pause_s: null,
  pace: null,
  rhythm: null,
  line: null,
  water_column: null,
  bait: null,
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

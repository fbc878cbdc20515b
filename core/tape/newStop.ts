import type { DayStop } from "../../shared/day.ts"

/** A stop of which only the spot is known. */
export const newStop = (spot_id: string | null): DayStop => ({
  id: null,
  spot_id,
  label: null,
  start_at: null,
  end_at: null,
  platform: null,
  ground: null,
  structure: null,
  why_left: null,
})

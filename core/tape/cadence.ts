import type { DayStint } from "../../shared/day.ts"

/** The columns in which a stint may say something else than its presentation does. */
export const cadenceColumns = [
  "actions_per_cycle",
  "pause_s",
  "pace",
  "rhythm",
  "line",
  "water_column",
  "bait",
] as const

/** What a stint may say otherwise than its presentation does. */
export type Cadence = Pick<DayStint, (typeof cadenceColumns)[number]>

/** Nothing said otherwise than the presentation does. */
export const noCadence: Cadence = {
  actions_per_cycle: null,
  pause_s: null,
  pace: null,
  rhythm: null,
  line: null,
  water_column: null,
  bait: null,
}

/** What a stint says otherwise than its presentation does. */
export const cadenceOf = ({
  actions_per_cycle,
  pause_s,
  pace,
  rhythm,
  line,
  water_column,
  bait,
}: Cadence): Cadence => ({ actions_per_cycle, pause_s, pace, rhythm, line, water_column, bait })

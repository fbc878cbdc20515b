import { localHour } from "./localClock.ts"

/** Names what is computed and how; raised whenever a result may change, so that old rows are rebuilt. */
export const conditionsMethod = "clock 1"

/** Where and when a stint was fished, as far as the computed conditions need it. */
export type When = { readonly start_at: number | null; readonly end_at: number | null; readonly zone: string }

/** The conditions that follow from place and time in the middle of a stint; null where the time is unknown. */
export function computeConditions(when: When): { hour_local: number } | null {
  if (when.start_at === null) return null
  const middle = when.end_at === null ? when.start_at : (when.start_at + when.end_at) / 2
  return { hour_local: localHour(Math.round(middle), when.zone) }
}

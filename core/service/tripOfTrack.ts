import type { TripTimes } from "../store/read/tripTimes.ts"
import type { Span } from "../store/read/tracks.ts"

/** The trip whose times a span shares most of; null where it shares none, or no trip's times are known. */
export function tripSharing(trips: readonly TripTimes[], span: Span): TripTimes | null {
  let most: { readonly shared: number; readonly trip: TripTimes | null } = { shared: 0, trip: null }
  for (const trip of trips) {
    const { start_at, end_at } = trip
    if (start_at === null || end_at === null) continue
    const shared = Math.min(end_at, span.end_at) - Math.max(start_at, span.start_at)
    if (shared > most.shared) most = { shared, trip }
  }
  return most.trip
}

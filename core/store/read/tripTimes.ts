import type { Database } from "better-sqlite3"
import { z } from "zod"

const Trips = z.array(
  z.object({
    id: z.string(),
    date: z.string(),
    zone: z.string(),
    start_at: z.int().nullable(),
    end_at: z.int().nullable(),
  }),
)

/** A trip with the times it is known to have begun and ended: its own, else those of its stints. UTC ms. */
export type TripTimes = z.infer<typeof Trips>[number]

/** Every live trip, planned and open ones too, with its times. */
export function tripTimes(db: Database): TripTimes[] {
  return Trips.parse(
    db
      .prepare(
        `SELECT trip.id, trip.date, trip.zone,
           coalesce(trip.start_at, min(stint.start_at)) AS start_at,
           coalesce(trip.end_at, max(coalesce(stint.end_at, stint.start_at))) AS end_at
         FROM trip
         LEFT JOIN stop ON stop.trip_id = trip.id AND stop.deleted_at IS NULL
         LEFT JOIN stint ON stint.stop_id = stop.id AND stint.deleted_at IS NULL
         WHERE trip.deleted_at IS NULL
         GROUP BY trip.id
         ORDER BY trip.id`,
      )
      .all(),
  )
}

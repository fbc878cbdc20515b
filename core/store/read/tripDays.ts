import type { Database } from "better-sqlite3"
import { z } from "zod"

const text = z.string().nullable()
const at = z.int().nullable()
const number = z.number().nullable()

const Trip = z.object({ id: z.string(), date: z.string(), zone: z.string() })
const Stop = z.object({
  trip_id: z.string(),
  spot_id: text,
  spot: text,
  start_at: at,
  end_at: at,
  lat: number,
  lon: number,
  tide_station: text,
  current_station: text,
  lag_high_min: number,
  lag_low_min: number,
  slack_after_high_min: number,
  slack_after_low_min: number,
})
const Stint = z.object({
  trip_id: z.string(),
  id: z.string(),
  start_at: at,
  end_at: at,
  effort_minutes: number,
  lure_class: text,
  presentation: text,
  spot: text,
  landed: z.int().nullable(),
})
const Fish = z.object({ trip_id: z.string(), stint: z.string(), at, species: text })

/** A trip's clock, water and fish: what a picture of its day needs. `water` is null at a stop without a spot. */
export type TripDayRead = z.infer<typeof Trip> & {
  readonly stops: readonly ReturnType<typeof stopWaters>[number][]
  readonly stints: readonly z.infer<typeof Stint>[]
  readonly fish: readonly z.infer<typeof Fish>[]
}

const among = "IN (SELECT value FROM json_each(?))"

/** The stops of some trips in order, each with the water of its spot. */
export function stopWaters(db: Database, trips: readonly string[]) {
  return z
    .array(Stop)
    .parse(
      db
        .prepare(
          `SELECT stop.trip_id, stop.spot_id, spot.name AS spot, stop.start_at, stop.end_at, spot.lat, spot.lon,
             spot.tide_station, spot.current_station, spot.lag_high_min, spot.lag_low_min, spot.slack_after_high_min,
             spot.slack_after_low_min
           FROM stop LEFT JOIN spot ON spot.id = stop.spot_id
           WHERE stop.deleted_at IS NULL AND stop.trip_id ${among} ORDER BY stop.ordinal`,
        )
        .all(JSON.stringify(trips)),
    )
    .map(({ trip_id, spot_id, spot, start_at, end_at, ...water }) => ({
      trip_id,
      spot,
      start_at,
      end_at,
      water: spot_id === null ? null : water,
    }))
}

/** The live trips among `ids`, with their stops and stints in order and every landed fish. */
export function tripDays(db: Database, ids: readonly string[]): TripDayRead[] {
  const read = <T extends z.ZodType>(row: T, sql: string): z.output<T>[] =>
    z.array(row).parse(db.prepare(sql).all(JSON.stringify(ids)))
  const trips = read(Trip, `SELECT id, date, zone FROM trip WHERE deleted_at IS NULL AND id ${among}`)
  const stints = read(
    Stint,
    `SELECT trip_id, stint_id AS id, start_at, end_at, effort_minutes, lure_class, presentation, spot, landed
     FROM stint_fact WHERE trip_id ${among} ORDER BY stop_ordinal, stint_ordinal`,
  )
  const fish = read(
    Fish,
    `SELECT stop.trip_id, strike.stint_id AS stint, strike.at, species.name AS species
     FROM stop
     JOIN stint ON stint.stop_id = stop.id AND stint.deleted_at IS NULL
     JOIN strike ON strike.stint_id = stint.id AND strike.deleted_at IS NULL AND strike.fate = 'landed'
     LEFT JOIN species ON species.id = strike.species_id
     WHERE stop.deleted_at IS NULL AND stop.trip_id ${among} ORDER BY strike.stint_id, strike.ordinal`,
  )
  const ofTrip = <T extends { readonly trip_id: string }>(rows: readonly T[]) => {
    const grouped = Map.groupBy(rows, ({ trip_id }) => trip_id)
    return (id: string): readonly T[] => grouped.get(id) ?? []
  }
  const [stopsOf, stintsOf, fishOf] = [ofTrip(stopWaters(db, ids)), ofTrip(stints), ofTrip(fish)]
  return trips.map((trip) => ({
    ...trip,
    stops: stopsOf(trip.id),
    stints: stintsOf(trip.id),
    fish: fishOf(trip.id),
  }))
}

import type { Database } from "better-sqlite3"
import { z } from "zod"
import { TripListed, TripPage } from "../../../shared/trips.ts"

const Named = TripListed.omit({
  anglers: true,
  spots: true,
  stints: true,
  rod_hours: true,
  strikes: true,
  landed: true,
})
const Listed = TripListed.omit({ anglers: true, spots: true })
const Names = z.array(z.tuple([z.string(), z.string()]))

/** Sums of a trip's stints: unknown as soon as one of them is. */
const sumKnown = (column: string): string =>
  `CASE WHEN count(${column}) = count(*) THEN sum(${column}) END AS ${column}`

const namedColumns = `trip.id, trip.date, trip.label, trip.purpose, trip.status, trip.completeness, trip.notes,
    species.name AS target`

const listSql = `
  WITH fished AS (
    SELECT trip_id, count(*) AS stints, ${["rod_hours", "strikes", "landed"].map(sumKnown).join(", ")}
    FROM stint_fact GROUP BY trip_id
  )
  SELECT ${namedColumns}, coalesce(fished.stints, 0) AS stints, fished.rod_hours, fished.strikes, fished.landed
  FROM trip
  LEFT JOIN fished ON fished.trip_id = trip.id
  LEFT JOIN species ON species.id = trip.target_species_id
  WHERE trip.deleted_at IS NULL
  ORDER BY trip.date DESC, coalesce(trip.start_at, 0) DESC, trip.id DESC`

const anglersSql = `
  SELECT DISTINCT trip_id, angler.name
  FROM (
    SELECT trip_id, angler_id FROM trip_angler WHERE deleted_at IS NULL
    UNION ALL
    SELECT stop.trip_id, stint.angler_id
    FROM stint JOIN stop ON stop.id = stint.stop_id
    WHERE stint.deleted_at IS NULL AND stop.deleted_at IS NULL
  ) AS fished
  JOIN angler ON angler.id = fished.angler_id`

const spotsSql = `
  SELECT stop.trip_id, spot.name
  FROM stop JOIN spot ON spot.id = stop.spot_id
  WHERE stop.deleted_at IS NULL`

/** Names by trip, as raw rows of trip and name. */
const namesByTrip = (rows: unknown): Map<string, string[]> =>
  new Map(
    [...Map.groupBy(Names.parse(rows), ([trip]) => trip)].map(([trip, pairs]) => [
      trip,
      [...new Set(pairs.map(([, name]) => name))],
    ]),
  )

/** Every live trip, planned ones too, latest first. */
export function tripsListed(db: Database): TripListed[] {
  const anglers = namesByTrip(db.prepare(`${anglersSql} ORDER BY angler.name`).raw().all())
  const spots = namesByTrip(db.prepare(`${spotsSql} ORDER BY stop.trip_id, stop.ordinal`).raw().all())
  return z
    .array(Listed)
    .parse(db.prepare(listSql).all())
    .map((trip) => ({ ...trip, anglers: anglers.get(trip.id) ?? [], spots: spots.get(trip.id) ?? [] }))
}

const flag = z.union([z.literal(0), z.literal(1)]).transform((value) => value === 1)
const Head = Named.extend({
  ...TripPage.pick({ zone: true, start_at: true, end_at: true, recorded: true }).shape,
  counted_misses: flag,
  counted_losses: flag,
  counted_landed: flag,
  counted_follows: flag,
  counted_hang_ups: flag,
})
const headSql = `
  SELECT ${namedColumns}, trip.zone, trip.start_at, trip.end_at, trip.recorded, trip.counted_misses,
    trip.counted_losses, trip.counted_landed, trip.counted_follows, trip.counted_hang_ups
  FROM trip LEFT JOIN species ON species.id = trip.target_species_id
  WHERE trip.id = ? AND trip.deleted_at IS NULL`

/** A trip's own part of its page: what does not follow from its stints. */
export type TripHead = z.infer<typeof Named> &
  Pick<TripPage, "anglers" | "spots" | "zone" | "start_at" | "end_at" | "recorded" | "counted">

/** One live trip; null where there is none of this id. */
export function tripHead(db: Database, id: string): TripHead | null {
  const row = db.prepare(headSql).get(id)
  if (row === undefined) return null
  const {
    counted_misses: misses,
    counted_losses: losses,
    counted_landed: landed,
    counted_follows: follows,
    counted_hang_ups: hang_ups,
    ...head
  } = Head.parse(row)
  const anglers = db.prepare(`${anglersSql} WHERE trip_id = ? ORDER BY angler.name`).raw().all(id)
  const spots = db.prepare(`${spotsSql} AND stop.trip_id = ? ORDER BY stop.ordinal`).raw().all(id)
  return {
    ...head,
    anglers: namesByTrip(anglers).get(id) ?? [],
    spots: namesByTrip(spots).get(id) ?? [],
    counted: { misses, losses, landed, follows, hang_ups },
  }
}

const Neighbour = z.string().nullable()

/** The trips before and after one in time, in the order of the list. */
export function tripNeighbours(db: Database, id: string): Pick<TripPage, "previous" | "next"> {
  const beside = (sign: "<" | ">", order: "ASC" | "DESC") =>
    Neighbour.parse(
      db
        .prepare(
          `SELECT trip.id FROM trip, (SELECT date, coalesce(start_at, 0) AS start_at, id FROM trip WHERE id = ?) AS here
           WHERE trip.deleted_at IS NULL
             AND (trip.date, coalesce(trip.start_at, 0), trip.id) ${sign} (here.date, here.start_at, here.id)
           ORDER BY trip.date ${order}, coalesce(trip.start_at, 0) ${order}, trip.id ${order} LIMIT 1`,
        )
        .pluck()
        .get(id) ?? null,
    )
  return { previous: beside("<", "DESC"), next: beside(">", "ASC") }
}

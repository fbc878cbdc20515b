import type { Database } from "better-sqlite3"
import { z } from "zod"
import { Day, DayHead, DayReading, DayStint, DayStop, DayStrike } from "../../../shared/day.ts"
import { entities } from "../../../shared/entities.ts"

const Kept = { id: z.string() }
const Stop = DayStop.extend(Kept)
const Stint = DayStint.omit({ stop: true, strikes: true }).extend({ ...Kept, stop_id: z.string() })
const Strike = DayStrike.extend({ ...Kept, stint_id: z.string() }).transform(({ stint_id, ...strike }) => ({
  stint_id,
  strike,
}))
const strikeColumns = { ...DayStrike.shape, stint_id: true }
const Reading = DayReading.omit({ stop: true, stint: true }).extend({
  ...Kept,
  stop_id: z.string().nullable(),
  stint_id: z.string().nullable(),
})
const Unread = entities.unread.pick({ id: true, stint_id: true, place: true, position: true, text: true })

const columns = (shape: object, table: string): string =>
  Object.keys(shape)
    .map((column) => `${table}.${column}`)
    .join(", ")

/** A trip's own part with its anglers in the order in which they were named; null where there is no such live trip. */
export function dayHead(db: Database, trip: string): DayHead | null {
  const { anglers: _, ...own } = DayHead.shape
  const row = db
    .prepare(`SELECT ${columns(own, "trip")} FROM trip WHERE id = ? AND deleted_at IS NULL`)
    .get(trip)
  if (row === undefined) return null
  const anglers = tripAnglers(db, trip).map(({ angler_id }) => angler_id)
  return DayHead.parse({ ...Object(row), anglers })
}

/** The latest open trip of a day of which nothing is written down but the day; null where there is none. */
export function emptyTrip(db: Database, date: string): string | null {
  const found = db
    .prepare(
      `SELECT id FROM trip
       WHERE date = ? AND status = 'open' AND deleted_at IS NULL
         AND start_at IS NULL AND label IS NULL AND notes IS NULL AND target_species_id IS NULL
         AND NOT EXISTS (SELECT 1 FROM stop WHERE trip_id = trip.id AND deleted_at IS NULL)
         AND NOT EXISTS (SELECT 1 FROM trip_angler WHERE trip_id = trip.id AND deleted_at IS NULL)
         AND NOT EXISTS (SELECT 1 FROM observation WHERE trip_id = trip.id AND deleted_at IS NULL)
         AND NOT EXISTS (SELECT 1 FROM unread WHERE trip_id = trip.id AND deleted_at IS NULL)
       ORDER BY id DESC LIMIT 1`,
    )
    .pluck()
    .get(date)
  return z.string().optional().parse(found) ?? null
}

/** How many pieces of what was typed of a trip cannot be read. */
export const unreadCount = (db: Database, trip: string): number =>
  z
    .number()
    .parse(
      db.prepare("SELECT count(*) FROM unread WHERE trip_id = ? AND deleted_at IS NULL").pluck().get(trip),
    )

const TripAngler = z.object({ id: z.string(), angler_id: z.string() })

/** Who was on a trip, in the order in which they were named. */
export const tripAnglers = (db: Database, trip: string): z.infer<typeof TripAngler>[] =>
  z
    .array(TripAngler)
    .parse(
      db
        .prepare("SELECT id, angler_id FROM trip_angler WHERE trip_id = ? AND deleted_at IS NULL ORDER BY id")
        .all(trip),
    )

/** A trip's day as stored; null where there is no such live trip. Readings out of files and tables are left out. */
export function storedDay(db: Database, trip: string): Day | null {
  const head = dayHead(db, trip)
  if (head === null) return null
  const read = <T extends z.ZodType>(row: T, sql: string): z.output<T>[] =>
    z.array(row).parse(db.prepare(sql).all(trip))
  const stops = read(
    Stop,
    `SELECT ${columns(Stop.shape, "stop")} FROM stop WHERE trip_id = ? AND deleted_at IS NULL ORDER BY ordinal, id`,
  )
  const stopAt = new Map(stops.map(({ id }, at) => [id, at]))
  const stints = read(
    Stint,
    `SELECT ${columns(Stint.shape, "stint")}
     FROM stop JOIN stint ON stint.stop_id = stop.id AND stint.deleted_at IS NULL
     WHERE stop.trip_id = ? AND stop.deleted_at IS NULL ORDER BY stint.ordinal, stop.ordinal, stint.id`,
  )
  const stintAt = new Map(stints.map(({ id }, at) => [id, at]))
  const strikes = Map.groupBy(
    read(
      Strike,
      `SELECT ${columns(strikeColumns, "strike")}
       FROM stop
       JOIN stint ON stint.stop_id = stop.id AND stint.deleted_at IS NULL
       JOIN strike ON strike.stint_id = stint.id AND strike.deleted_at IS NULL
       WHERE stop.trip_id = ? AND stop.deleted_at IS NULL ORDER BY strike.ordinal, strike.id`,
    ),
    ({ stint_id }) => stint_id,
  )
  const readings = read(
    Reading,
    `SELECT ${columns(Reading.shape, "observation")} FROM observation
     WHERE trip_id = ? AND source <> 'imported' AND deleted_at IS NULL ORDER BY at, id`,
  )
  const unread = read(
    Unread,
    `SELECT ${columns(Unread.shape, "unread")} FROM unread
     WHERE trip_id = ? AND deleted_at IS NULL ORDER BY position, id`,
  )
  return Day.parse({
    head,
    stops,
    stints: stints.map(({ stop_id, ...stint }) => ({
      ...stint,
      stop: stopAt.get(stop_id),
      strikes: (strikes.get(stint.id) ?? []).map(({ strike }) => strike),
    })),
    readings: readings
      .filter(({ stint_id }) => stint_id === null || stintAt.has(stint_id))
      .map(({ stop_id, stint_id, ...reading }) => ({
        ...reading,
        stop: stop_id === null ? null : (stopAt.get(stop_id) ?? null),
        stint: stint_id === null ? null : stintAt.get(stint_id),
      })),
    unread: unread
      .filter(({ stint_id }) => stint_id === null || stintAt.has(stint_id))
      .map(({ stint_id, ...line }) => ({ ...line, stint: stint_id === null ? null : stintAt.get(stint_id) })),
  })
}

const Ordinal = z.object({ id: z.string(), ordinal: z.int() })

/** The numbers by which a trip's stops, stints and strikes are in order, by their ids. */
export const dayOrdinals = (db: Database, trip: string): Map<string, number> =>
  new Map(
    z
      .array(Ordinal)
      .parse(
        db
          .prepare(
            `SELECT id, ordinal FROM stop WHERE trip_id = ?1
             UNION ALL
             SELECT stint.id, stint.ordinal FROM stop JOIN stint ON stint.stop_id = stop.id WHERE stop.trip_id = ?1
             UNION ALL
             SELECT strike.id, strike.ordinal FROM stop JOIN stint ON stint.stop_id = stop.id
             JOIN strike ON strike.stint_id = stint.id WHERE stop.trip_id = ?1`,
          )
          .all({ 1: trip }),
      )
      .map(({ id, ordinal }) => [id, ordinal]),
  )

import type { Database } from "better-sqlite3"
import { z } from "zod"
import { factorsAt, type FactorId } from "../../../shared/factors.ts"
import { TripPage, TripStint, TripStrike } from "../../../shared/trips.ts"

type TripStop = TripPage["stops"][number]

/** The conditions of a stint that a page shows, in catalogue order. */
const conditionIds: readonly FactorId[] = [...factorsAt("observation"), ...factorsAt("computed")]

const Stop = TripPage.shape.stops.element.omit({ stints: true })
const Stint = TripStint.omit({ fish: true, conditions: true }).extend({ stop_id: z.string() })
const Value = z.union([z.string(), z.number()]).nullable()
const Cells = z.record(z.string(), z.unknown())
const Strike = TripStrike.omit({ kept: true, estimated: true }).extend({
  stint_id: z.string(),
  kept: z
    .union([z.literal(0), z.literal(1)])
    .nullable()
    .transform((kept) => (kept === null ? null : kept === 1)),
})

const stintsSql = `
  SELECT fact.stint_id AS id, fact.stop_id, fact.start_at, fact.end_at, fact.effort_minutes, fact.effort_source,
    fact.rods, fact.rod_hours, fact.angler, fact.presentation, fact.lure_class, fact.strikes, fact.hook_ups,
    fact.landed, fact.follows, fact.hang_ups, fact.lures_lost, stint.why_changed, fact.notes,
    ${conditionIds.map((id) => `fact.${id}, fact.${id}_source`).join(", ")}
  FROM stint_fact AS fact JOIN stint ON stint.id = fact.stint_id
  WHERE fact.trip_id = ?
  ORDER BY fact.stop_ordinal, fact.stint_ordinal`

/** The stops of a trip in order, each with its stints, their strikes and their conditions as stored: no weight is estimated here. */
export function tripStops(db: Database, trip: string): TripStop[] {
  const stops = z.array(Stop).parse(
    db
      .prepare(
        `SELECT stop.id, spot.name AS spot, stop.start_at, stop.end_at, stop.platform, stop.why_left
           FROM stop LEFT JOIN spot ON spot.id = stop.spot_id
           WHERE stop.trip_id = ? AND stop.deleted_at IS NULL ORDER BY stop.ordinal`,
      )
      .all(trip),
  )
  const strikes = Map.groupBy(strikesOf(db, trip), ({ stint_id }) => stint_id)
  const rows = z.array(Cells).parse(db.prepare(stintsSql).all(trip))
  const stints = rows.map((row) => {
    const { stop_id, ...stint } = Stint.parse(row)
    const fish = (strikes.get(stint.id) ?? []).map(({ strike }) => strike)
    return { stop_id, stint: { ...stint, fish, conditions: conditionsIn(row) } }
  })
  const byStop = Map.groupBy(stints, ({ stop_id }) => stop_id)
  return stops.map((stop) => ({
    ...stop,
    stints: (byStop.get(stop.id) ?? []).map(({ stint }) => stint),
  }))
}

const conditionsIn = (row: z.infer<typeof Cells>): TripStop["stints"][number]["conditions"] =>
  conditionIds.flatMap((id) => {
    const value = Value.parse(row[id])
    const source = z.string().nullable().parse(row[`${id}_source`])
    return value === null ? [] : [{ factor: id, value, source }]
  })

const strikesOf = (db: Database, trip: string) =>
  z
    .array(Strike)
    .parse(
      db
        .prepare(
          `SELECT strike.id, strike.stint_id, strike.fate, strike.species_id, species.name AS species, strike.at, strike.took_on,
           strike.length_mm, species.length_type, strike.weight_g, strike.kept
         FROM stop
         JOIN stint ON stint.stop_id = stop.id AND stint.deleted_at IS NULL
         JOIN strike ON strike.stint_id = stint.id AND strike.deleted_at IS NULL
         LEFT JOIN species ON species.id = strike.species_id
         WHERE stop.trip_id = ? AND stop.deleted_at IS NULL
         ORDER BY strike.stint_id, strike.ordinal`,
        )
        .all(trip),
    )
    .map(({ stint_id, ...strike }) => ({ stint_id, strike: { ...strike, estimated: null } }))

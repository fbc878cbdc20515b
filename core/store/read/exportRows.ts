import type { Database } from "better-sqlite3"
import { z } from "zod"
import { factorIds, factorsAt } from "../../../shared/factors.ts"

const cell = z.union([z.string(), z.number(), z.null()])
const Rows = z.array(z.record(z.string(), cell))

/** A row of a view by column name. */
export type ViewRow = z.infer<typeof Rows>[number]

/** Every stint with all that `stint_fact` tells of it, its spot's place and its target by name, in order of time. */
export function exportStints(db: Database): ViewRow[] {
  const factors = factorIds.map((id) => `fact.${id}`)
  const sources = [...factorsAt("computed"), ...factorsAt("observation")].map((id) => `fact.${id}_source`)
  return Rows.parse(
    db
      .prepare(
        `SELECT fact.stint_id, fact.trip_id, fact.stop_id, fact.trip_label, fact.trip_date, fact.trip_zone,
           fact.completeness, fact.stop_ordinal, fact.stop_label, fact.stint_ordinal, fact.start_at, fact.end_at,
           fact.effort_minutes, fact.effort_source, fact.notes, fact.rod_hours,
           fact.strikes, fact.hook_ups, fact.landed, fact.follows, fact.hang_ups, fact.lures_lost,
           species.name AS target, spot.lat, spot.lon, spot.tide_station AS station,
           ${[...factors, ...sources].join(", ")}
         FROM stint_fact AS fact
         JOIN stop ON stop.id = fact.stop_id
         JOIN trip ON trip.id = fact.trip_id
         LEFT JOIN spot ON spot.id = stop.spot_id
         LEFT JOIN species ON species.id = fact.target_species_id
         ORDER BY fact.trip_date, trip.start_at, fact.trip_id, fact.stop_ordinal, fact.stint_ordinal`,
      )
      .all(),
  )
}

/** Every strike of the live stints, in order. */
export function exportStrikes(db: Database): ViewRow[] {
  return Rows.parse(
    db
      .prepare(
        `SELECT strike.stint_id, strike.fate, species.name AS species, strike.length_mm, strike.weight_g,
           strike.kept, strike.at, strike.took_on
         FROM strike
         JOIN stint ON stint.id = strike.stint_id AND stint.deleted_at IS NULL
         LEFT JOIN species ON species.id = strike.species_id
         WHERE strike.deleted_at IS NULL
         ORDER BY strike.stint_id, strike.ordinal`,
      )
      .all(),
  )
}

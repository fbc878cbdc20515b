import type { Database } from "better-sqlite3"
import { z } from "zod"
import { newId } from "./ids.ts"

/** Values worked out from place and time, by column of `computed`; what is left out is unknown. */
export type WorkedOut = {
  readonly hour_local: number
  readonly light?: string
  readonly sun_altitude_deg?: number
  readonly moon_illum: number
  readonly moon_phase_rad: number
}

/**
 * Stores what was worked out for stints. It follows from the record and may be dropped and made again at any time, so
 * it leaves no entry in the history; what was imported is a record and goes through `put`.
 */
export function workedOutWriter(db: Database, method: string): (stintId: string, values: WorkedOut) => void {
  const insert = db.prepare(
    `INSERT INTO computed (id, created_at, updated_at, stint_id, method, hour_local, light, sun_altitude_deg,
       moon_illum, moon_phase_rad)
     VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
  )
  const at = Date.now()
  return (stintId, { hour_local, light = null, sun_altitude_deg = null, moon_illum, moon_phase_rad }) =>
    void insert.run(
      newId(),
      at,
      at,
      stintId,
      method,
      hour_local,
      light,
      sun_altitude_deg,
      moon_illum,
      moon_phase_rad,
    )
}

/** Forgets everything that was worked out. Imported conditions stay. */
export function dropWorkedOut(db: Database): void {
  db.prepare("DELETE FROM computed WHERE method <> 'imported'").run()
}

const Stints = z.array(
  z.object({
    id: z.string(),
    start_at: z.int(),
    end_at: z.int().nullable(),
    zone: z.string(),
    lat: z.number().nullable(),
    lon: z.number().nullable(),
  }),
)

/** When and where every stint was fished for which nothing is worked out yet. */
export function stintsWithoutConditions(db: Database): z.infer<typeof Stints> {
  return Stints.parse(
    db
      .prepare(
        `SELECT stint.id, stint.start_at, stint.end_at, trip.zone, spot.lat, spot.lon
         FROM stint
         JOIN stop ON stop.id = stint.stop_id
         JOIN trip ON trip.id = stop.trip_id
         LEFT JOIN spot ON spot.id = stop.spot_id
         WHERE stint.start_at IS NOT NULL AND stint.deleted_at IS NULL
           AND NOT EXISTS (SELECT 1 FROM computed WHERE computed.stint_id = stint.id AND method <> 'imported')`,
      )
      .all(),
  )
}

/** Whether anything was worked out by another method than the present one. */
export function hasOtherMethod(db: Database, method: string): boolean {
  return (
    db.prepare("SELECT 1 FROM computed WHERE method NOT IN ('imported', ?) LIMIT 1").get(method) !== undefined
  )
}

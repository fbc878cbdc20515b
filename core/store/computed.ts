import type { Database } from "better-sqlite3"
import { z } from "zod"
import { columnsOf, type Draft } from "../../shared/entities.ts"
import { newId } from "./ids.ts"

/** Values worked out from place and time, by column of `computed`; what is left out is unknown. */
export type WorkedOut = Omit<Draft<"computed">, "stint_id" | "method" | "basis">

/** When and where a stint was fished, the key of what its conditions follow from, and whether any are stored. */
const Stale = z.array(
  z.object({
    id: z.string(),
    basis: z.string(),
    start_at: z.int().nullable(),
    end_at: z.int().nullable(),
    zone: z.string(),
    spot_id: z.string().nullable(),
    lat: z.number().nullable(),
    lon: z.number().nullable(),
    tide_station: z.string().nullable(),
    current_station: z.string().nullable(),
    lag_high_min: z.number().nullable(),
    lag_low_min: z.number().nullable(),
    slack_after_high_min: z.number().nullable(),
    slack_after_low_min: z.number().nullable(),
  }),
)
export type StaleStint = z.infer<typeof Stale>[number]

/** A stop of up to this length tells when a stint without a clock of its own was fished, near enough for the tide. Ours. */
const longestStopMs = 3 * 3_600_000

/** A station of the user's own this much further north or south, 55 km, is never taken for a place unless chosen. */
const ownReachDegrees = 0.5

/**
 * Every live stint with the values that its conditions follow from, put together as its `basis`, and among them the
 * stations of the user's own that were chosen for its place or may be the nearest. The time is the stint's own, else that
 * of a stop not too long.
 */
const basisSql = `
  SELECT id, start_at, end_at, zone, spot_id, lat, lon, tide_station, current_station, lag_high_min, lag_low_min,
    slack_after_high_min, slack_after_low_min,
    json_array(
      start_at, end_at, zone, lat, lon, tide_station, current_station, lag_high_min, lag_low_min,
      slack_after_high_min, slack_after_low_min,
      (
        SELECT json_group_array(own.id || ' ' || own.updated_at ORDER BY own.id) FROM own_station AS own
        WHERE own.deleted_at IS NULL AND (
          own.id IN (tide_station, current_station)
          OR CASE own.kind WHEN 'tide' THEN tide_station ELSE current_station END IS NULL
            AND abs(own.lat - placed.lat) < ${ownReachDegrees}
        )
      )
    ) AS basis
  FROM (
    SELECT stint.id,
      CASE
        WHEN stint.start_at IS NOT NULL THEN stint.start_at
        WHEN stop.end_at - stop.start_at <= ${longestStopMs} THEN stop.start_at
      END AS start_at,
      CASE
        WHEN stint.start_at IS NOT NULL THEN stint.end_at
        WHEN stop.end_at - stop.start_at <= ${longestStopMs} THEN stop.end_at
      END AS end_at,
      trip.zone, spot.id AS spot_id, spot.lat, spot.lon, spot.tide_station, spot.current_station, spot.lag_high_min,
      spot.lag_low_min, spot.slack_after_high_min, spot.slack_after_low_min
    FROM stint
    JOIN stop ON stop.id = stint.stop_id
    JOIN trip ON trip.id = stop.trip_id
    LEFT JOIN spot ON spot.id = stop.spot_id
    WHERE stint.deleted_at IS NULL
  ) AS placed`

const staleSql = `
  FROM (${basisSql}) AS now
  LEFT JOIN computed AS had ON had.stint_id = now.id AND had.method <> 'imported'
  WHERE CASE
    WHEN now.start_at IS NULL THEN had.id IS NOT NULL
    ELSE had.id IS NULL OR had.method <> ? OR had.basis IS NOT now.basis
  END`

/** How many stints' conditions are missing, or follow from another place, time or method than the present ones. */
export function countStale(db: Database, method: string): number {
  return z.int().parse(db.prepare(`SELECT count(*) ${staleSql}`).pluck().get(method))
}

/** Those stints. One without a time has conditions to lose only. */
export function staleStints(db: Database, method: string): StaleStint[] {
  return Stale.parse(db.prepare(`SELECT now.* ${staleSql}`).all(method))
}

/**
 * Replaces what was worked out for stints; null forgets it. It follows from the record and may be dropped and made again
 * at any time, so it leaves no entry in the history; what was imported is a record and goes through `put`.
 */
export function workedOutWriter(
  db: Database,
  method: string,
): (stint: Pick<StaleStint, "id" | "basis">, values: WorkedOut | null) => void {
  const columns = columnsOf("computed")
  const forget = db.prepare("DELETE FROM computed WHERE stint_id = ? AND method <> 'imported'")
  const insert = db.prepare(
    `INSERT INTO computed (${columns.join(", ")}) VALUES (${columns.map(() => "?").join(", ")})`,
  )
  const at = Date.now()
  return ({ id, basis }, values) => {
    forget.run(id)
    if (values === null) return
    const row: Readonly<Record<string, unknown>> = {
      ...values,
      id: newId(),
      created_at: at,
      updated_at: at,
      stint_id: id,
      method,
      basis,
    }
    insert.run(columns.map((column) => row[column] ?? null))
  }
}

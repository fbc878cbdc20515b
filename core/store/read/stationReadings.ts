import type { Database } from "better-sqlite3"
import { z } from "zod"

const value = z.number().nullable()
const Readings = z.array(
  z.object({
    trip_id: z.string(),
    at: z.int(),
    water_temp_c: value,
    wind_speed_ms: value,
    wind_dir_deg: value,
    barometer_hpa: value,
    barometer_3h_hpa: value,
    water_level_m: value,
    salinity_psu: value,
  }),
)

/** A station's reading as it is kept with a trip. */
export type StationReading = z.infer<typeof Readings>[number]

const ofStations = `FROM observation WHERE source = 'imported' AND stint_id IS NULL AND stop_id IS NULL
                    AND at IS NOT NULL AND deleted_at IS NULL`

/** The live readings that station files brought. */
export function stationReadings(db: Database): StationReading[] {
  return Readings.parse(
    db
      .prepare(
        `SELECT trip_id, at, water_temp_c, wind_speed_ms, wind_dir_deg, barometer_hpa, barometer_3h_hpa, water_level_m,
           salinity_psu
         ${ofStations}`,
      )
      .all(),
  )
}

/** The ids of these readings. */
export const stationReadingIds = (db: Database): ReadonlySet<string> =>
  new Set(z.array(z.string()).parse(db.prepare(`SELECT id ${ofStations}`).pluck().all()))

import type { Database } from "better-sqlite3"
import { z } from "zod"
import { entities } from "../../../shared/entities.ts"

const OwnStations = z.array(
  entities.own_station.pick({ id: true, name: true, kind: true, lat: true, lon: true, definition: true }),
)

/** The user's own stations, oldest first; `definition` as stored. */
export const ownStations = (db: Database): z.infer<typeof OwnStations> =>
  OwnStations.parse(
    db
      .prepare(
        `SELECT id, name, kind, lat, lon, definition FROM own_station WHERE deleted_at IS NULL ORDER BY id`,
      )
      .all(),
  )

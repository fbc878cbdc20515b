import type { Database } from "better-sqlite3"
import { z } from "zod"
import { Spot } from "../../../shared/places.ts"

const Used = z.array(Spot.extend({ stints: z.int() }))

/** Every spot, by name, with how many stints were fished there. */
export const spotsWithUse = (db: Database): z.infer<typeof Used> =>
  Used.parse(
    db
      .prepare(
        `SELECT spot.*, (
           SELECT count(*) FROM stop JOIN stint ON stint.stop_id = stop.id
           WHERE stop.spot_id = spot.id AND stop.deleted_at IS NULL AND stint.deleted_at IS NULL
         ) AS stints
         FROM spot WHERE deleted_at IS NULL ORDER BY name COLLATE NOCASE`,
      )
      .all(),
  )

/** How many stints were fished at a spot. */
export const stintsAt = (db: Database, spotId: string): number =>
  z.int().parse(
    db
      .prepare(
        `SELECT count(*) FROM stop JOIN stint ON stint.stop_id = stop.id
         WHERE stop.spot_id = ? AND stop.deleted_at IS NULL AND stint.deleted_at IS NULL`,
      )
      .pluck()
      .get(spotId),
  )

/** The id of the spot with this name, whatever its case; null where there is none. */
export const spotByName = (db: Database, name: string): string | null =>
  z
    .string()
    .nullable()
    .parse(
      db
        .prepare("SELECT id FROM spot WHERE name = ? COLLATE NOCASE AND deleted_at IS NULL")
        .pluck()
        .get(name) ?? null,
    )

/** The zone of a spot; null where it has none. */
export const zoneOfSpot = (db: Database, id: string): string | null =>
  z
    .string()
    .nullable()
    .parse(db.prepare("SELECT zone FROM spot WHERE id = ?").pluck().get(id) ?? null)

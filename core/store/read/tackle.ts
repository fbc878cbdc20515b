import type { Database } from "better-sqlite3"
import { z } from "zod"
import {
  noParts,
  SomeParts,
  withParts,
  type PresentationListed,
  type TackleParts,
} from "../../../shared/tackle.ts"

const count = z.int()
const Counted = z.object({ id: z.string(), presentations: count })
const lureColumns =
  "lure_class.name AS lure_class, lure.name AS lure, profile, lure_length_mm, colour, scented, lure_sound, imitates"
const rigColumns =
  "head_weight_g, hook_shank, hook_style, cork_shape, cork_sound, cork_drop_mm, leader_length_mm, leader_strength_n, rig.bait, sink"
const retrieveColumns =
  "retrieve_style, retrieve.actions_per_cycle, retrieve.pause_s, retrieve.pace, retrieve.rhythm, retrieve.line, retrieve.water_column"

/** The parts that a row has columns for; the rest are unknown. */
const partsIn = (row: unknown): TackleParts => withParts(noParts, SomeParts.parse(row))

/** How many live presentations have a part. */
const used = (column: string, table: string): string =>
  `(SELECT count(*) FROM presentation WHERE presentation.${column} = ${table}.id AND presentation.deleted_at IS NULL) AS presentations`

const Class = Counted.extend({ name: z.string() })

/** The lure classes, by name, with how many presentations are of each. */
export const classesListed = (db: Database): z.infer<typeof Class>[] =>
  z.array(Class).parse(
    db
      .prepare(
        `SELECT id, name, (SELECT count(*) FROM presentation JOIN lure ON lure.id = presentation.lure_id
             WHERE lure.lure_class_id = lure_class.id AND presentation.deleted_at IS NULL) AS presentations
           FROM lure_class WHERE deleted_at IS NULL ORDER BY name COLLATE NOCASE`,
      )
      .all(),
  )

const Lure = Counted.extend({
  name: z.string().nullable(),
  price: z.number().nullable(),
  lost: count.nullable(),
})

/** The lures, with how many were lost on trips from one date to before another; null where no stint says. */
export const luresListed = (
  db: Database,
  from: string,
  to: string,
): (z.infer<typeof Lure> & { readonly parts: TackleParts })[] =>
  db
    .prepare(
      `SELECT lure.id, lure.price, ${lureColumns}, ${used("lure_id", "lure")},
         (SELECT sum(stint.lures_lost) FROM presentation
            JOIN stint ON stint.presentation_id = presentation.id AND stint.deleted_at IS NULL
            JOIN stop ON stop.id = stint.stop_id AND stop.deleted_at IS NULL
            JOIN trip ON trip.id = stop.trip_id AND trip.deleted_at IS NULL
          WHERE presentation.lure_id = lure.id AND trip.date >= ? AND trip.date < ?) AS lost
       FROM lure LEFT JOIN lure_class ON lure_class.id = lure.lure_class_id
       WHERE lure.deleted_at IS NULL ORDER BY lure_class.name, lure.name, lure.id`,
    )
    .all(from, to)
    .map((row) => {
      const parts = partsIn(row)
      return { ...Lure.omit({ name: true }).parse(row), name: parts.lure, parts }
    })

const Rig = Counted.extend({ name: z.string().nullable() })

export const rigsListed = (db: Database): (z.infer<typeof Rig> & { readonly parts: TackleParts })[] =>
  db
    .prepare(
      `SELECT rig.id, rig.name, ${rigColumns}, ${used("rig_id", "rig")} FROM rig
       WHERE deleted_at IS NULL ORDER BY head_weight_g, cork_drop_mm, rig.id`,
    )
    .all()
    .map((row) => ({ ...Rig.parse(row), parts: partsIn(row) }))

export const retrievesListed = (
  db: Database,
): (z.infer<typeof Counted> & { readonly parts: TackleParts })[] =>
  db
    .prepare(
      `SELECT retrieve.id, ${retrieveColumns}, ${used("retrieve_id", "retrieve")} FROM retrieve
       WHERE deleted_at IS NULL ORDER BY retrieve_style COLLATE NOCASE, retrieve.id`,
    )
    .all()
    .map((row) => ({ ...Counted.parse(row), parts: partsIn(row) }))

const Presentation = z.object({
  id: z.string(),
  name: z.string(),
  code: z.string().nullable(),
  mark: z.string().nullable(),
  retired_at: z.int().nullable(),
  lure_id: z.string().nullable(),
  rig_id: z.string().nullable(),
  retrieve_id: z.string().nullable(),
  stints: count,
  trips: count,
  last: z.string().nullable(),
})

/** Every live presentation, retired ones too, by class and name, with its use on trips that were fished. */
export const presentationsListed = (db: Database): Omit<PresentationListed, "sink" | "words">[] =>
  db
    .prepare(
      `WITH used AS (
         SELECT stint.presentation_id, count(*) AS stints, count(DISTINCT trip.id) AS trips, max(trip.date) AS last
         FROM stint
         JOIN stop ON stop.id = stint.stop_id AND stop.deleted_at IS NULL
         JOIN trip ON trip.id = stop.trip_id AND trip.deleted_at IS NULL
         WHERE stint.deleted_at IS NULL GROUP BY stint.presentation_id
       )
       SELECT presentation.id, presentation.name, presentation.code, presentation.mark, presentation.retired_at,
         presentation.lure_id, presentation.rig_id, presentation.retrieve_id,
         coalesce(used.stints, 0) AS stints, coalesce(used.trips, 0) AS trips, used.last,
         ${lureColumns}, ${rigColumns}, ${retrieveColumns}
       FROM presentation
       LEFT JOIN used ON used.presentation_id = presentation.id
       LEFT JOIN lure ON lure.id = presentation.lure_id
       LEFT JOIN lure_class ON lure_class.id = lure.lure_class_id
       LEFT JOIN rig ON rig.id = presentation.rig_id
       LEFT JOIN retrieve ON retrieve.id = presentation.retrieve_id
       WHERE presentation.deleted_at IS NULL
       ORDER BY lure_class.name COLLATE NOCASE, presentation.name COLLATE NOCASE`,
    )
    .all()
    .map((row) => ({ ...Presentation.parse(row), parts: partsIn(row) }))

/** How many trips had a stint with this lure, rig or retrieve. */
export const tripsOfPiece = (db: Database, key: "lure_id" | "rig_id" | "retrieve_id", id: string): number =>
  count.parse(
    db
      .prepare(
        `SELECT count(DISTINCT stop.trip_id)
         FROM presentation
         JOIN stint ON stint.presentation_id = presentation.id AND stint.deleted_at IS NULL
         JOIN stop ON stop.id = stint.stop_id AND stop.deleted_at IS NULL
         JOIN trip ON trip.id = stop.trip_id AND trip.deleted_at IS NULL
         WHERE presentation.${key} = ? AND presentation.deleted_at IS NULL`,
      )
      .pluck()
      .get(id),
  )

/** The year of the latest trip that is no plan; null where there is none. */
export const latestSeason = (db: Database): number | null =>
  z
    .int()
    .nullable()
    .parse(
      db
        .prepare(
          "SELECT CAST(substr(max(date), 1, 4) AS INTEGER) FROM trip WHERE deleted_at IS NULL AND status <> 'planned'",
        )
        .pluck()
        .get() ?? null,
    )

const Measured = z.object({
  id: z.string(),
  rig_id: z.string().nullable(),
  lure_id: z.string().nullable(),
  seconds: z.number(),
  depth_m: z.number(),
})
export type MeasuredSink = z.infer<typeof Measured>

/** Every measured sink, and those that a rig's own row has. */
export const sinksMeasured = (db: Database): MeasuredSink[] =>
  z.array(Measured).parse(
    db
      .prepare(
        `SELECT id, rig_id, lure_id, seconds, depth_m FROM sink WHERE deleted_at IS NULL
           UNION ALL
           SELECT id, id, NULL, sink_seconds, sink_depth_m FROM rig
           WHERE deleted_at IS NULL AND sink_seconds IS NOT NULL AND sink_depth_m IS NOT NULL`,
      )
      .all(),
  )

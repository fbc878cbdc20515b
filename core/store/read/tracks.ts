import type { Database } from "better-sqlite3"
import { z } from "zod"
import { TrackPoints } from "../../../shared/tracks.ts"

/** From one instant to another, UTC ms. */
export type Span = { readonly start_at: number; readonly end_at: number }

const StoredTrack = z.object({
  id: z.string(),
  name: z.string().nullable(),
  start_at: z.int().nullable(),
  end_at: z.int().nullable(),
  length_m: z.number(),
  points: z.string().transform((text) => TrackPoints.parse(JSON.parse(text))),
})
export type StoredTrack = z.infer<typeof StoredTrack>

/** Every live track, latest first, those without times last. */
export const storedTracks = (db: Database): StoredTrack[] =>
  z.array(StoredTrack).parse(
    db
      .prepare(
        `SELECT id, name, start_at, end_at, length_m, points FROM track WHERE deleted_at IS NULL
         ORDER BY start_at IS NULL, start_at DESC, id`,
      )
      .all(),
  )

/** The points of every live track, as stored: the same track again has the same. */
export const trackPoints = (db: Database): ReadonlySet<string> =>
  new Set(
    z.array(z.string()).parse(db.prepare("SELECT points FROM track WHERE deleted_at IS NULL").pluck().all()),
  )

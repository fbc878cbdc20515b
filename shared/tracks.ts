import { z } from "zod"

/** A point of a track: longitude, latitude (degrees), and when, UTC ms; null where the file does not tell. */
const Point = z.tuple([z.number().min(-180).max(180), z.number().min(-90).max(90), z.int().nullable()])
export type TrackPoint = z.infer<typeof Point>

/** Stretches of a track between breaks in the record, each of two points or more. */
export const TrackPoints = z.array(z.array(Point).min(2)).min(1)

/** A track as the map and its list show it, with the trip of whose times it shares most. */
export const TrackListed = z.object({
  id: z.string(),
  name: z.string().nullable(),
  start_at: z.int().nullable(),
  end_at: z.int().nullable(),
  length_m: z.number(),
  /** The trip's zone, else that of the place it begins at. */
  zone: z.string(),
  /** The local date of its start. */
  date: z.string().nullable(),
  trip: z.object({ id: z.string(), date: z.string() }).nullable(),
  points: TrackPoints,
})
export type TrackListed = z.infer<typeof TrackListed>

export const trackMethods = {
  /** Latest first, those without times last. */
  "tracks.list": { input: z.object({}), output: z.array(TrackListed) },
  "tracks.remove": { input: z.object({ id: z.string() }), output: z.object({ act: z.string() }) },
} as const

import { z } from "zod"
import * as word from "./vocabulary.ts"

const at = z.int()
const id = z.string()
const count = z.int().nonnegative()
const text = z.string()

/**
 * One day as a picture: light, tide, stints, fish. Instants in UTC ms; `from` and `to` span first light to last, and every
 * stint. What is not known is absent: a stint without a clock has no bar.
 */
export const DayStrip = z.object({
  zone: text,
  date: text,
  from: at,
  to: at,
  light: z.array(z.object({ from: at, to: at, word: z.enum(word.lights) })),
  tide: z
    .object({
      station: text,
      interpolated: z.boolean(),
      points: z.array(z.object({ at, height_m: z.number() })),
      waters: z.array(z.object({ kind: z.enum(["high", "low"]), at, height_m: z.number() })),
    })
    .nullable(),
  stints: z.array(
    z.object({
      id,
      from: at,
      to: at,
      /** Stints that overlap lie in lanes below one another, from 0. */
      lane: count,
      lure_class: text.nullable(),
      presentation: text.nullable(),
      spot: text.nullable(),
      landed: count.nullable(),
    }),
  ),
  stops: z.array(z.object({ from: at, to: at, spot: text })),
  /** Landed fish: at their own time where it is known, else spread evenly over their stint. */
  fish: z.array(z.object({ at, known: z.boolean(), stint: id, species: text.nullable() })),
  /** The same day in words, for those who cannot see the picture. */
  said: text,
})
export type DayStrip = z.infer<typeof DayStrip>

/** A trip in the list. Numbers are null where they were not counted. */
export const TripListed = z.object({
  id,
  date: text,
  label: text.nullable(),
  purpose: z.enum(word.purposes).nullable(),
  status: z.enum(word.tripStatuses),
  completeness: z.enum(word.completenesses),
  anglers: z.array(text),
  spots: z.array(text),
  target: text.nullable(),
  stints: count,
  rod_hours: z.number().nullable(),
  strikes: count.nullable(),
  landed: count.nullable(),
  notes: text.nullable(),
})
export type TripListed = z.infer<typeof TripListed>

/** A strike of a stint's, to read. */
export const TripStrike = z.object({
  id,
  fate: z.enum(word.fates),
  species_id: text.nullable(),
  species: text.nullable(),
  at: at.nullable(),
  took_on: z.enum(word.tookOn).nullable(),
  length_mm: z.number().nullable(),
  /** How the species is measured. */
  length_type: z.enum(word.lengthTypes).nullable(),
  weight_g: z.number().nullable(),
  /** For a fish that was not weighed: its weight by so many of the user's own weighed fish. Never a measurement. */
  estimated: z.object({ weight_g: z.number(), fish: count }).nullable(),
  kept: z.boolean().nullable(),
})

/** One condition of a stint: the factor, its value, and where it comes from in words. */
const condition = z.object({ factor: text, value: z.union([text, z.number()]), source: text.nullable() })

/** A stint of a trip's page. Counts are null where they were not counted. */
export const TripStint = z.object({
  id,
  start_at: at.nullable(),
  end_at: at.nullable(),
  effort_minutes: z.number().nullable(),
  effort_source: z.enum(word.effortSources).nullable(),
  rods: z.int(),
  rod_hours: z.number().nullable(),
  angler: text.nullable(),
  presentation: text.nullable(),
  lure_class: text.nullable(),
  strikes: count.nullable(),
  hook_ups: count.nullable(),
  landed: count.nullable(),
  follows: count.nullable(),
  hang_ups: count.nullable(),
  lures_lost: count.nullable(),
  why_changed: z.enum(word.changeReasons).nullable(),
  notes: text.nullable(),
  fish: z.array(TripStrike),
  conditions: z.array(condition),
})

const TripStop = z.object({
  id,
  spot: text.nullable(),
  start_at: at.nullable(),
  end_at: at.nullable(),
  platform: z.enum(word.platforms).nullable(),
  why_left: text.nullable(),
  stints: z.array(TripStint),
})

/** A trip to read: who, what was counted, the day strip, stops with their stints and fish, conditions with their sources. */
export const TripPage = TripListed.extend({
  zone: text,
  start_at: at.nullable(),
  end_at: at.nullable(),
  recorded: z.enum(word.recordings).nullable(),
  counted: z.object({
    misses: z.boolean(),
    losses: z.boolean(),
    landed: z.boolean(),
    follows: z.boolean(),
    hang_ups: z.boolean(),
  }),
  strip: DayStrip.nullable(),
  stops: z.array(TripStop),
  cautions: z.array(z.object({ code: text, text })),
  /** Neighbours in time, to leaf through. */
  previous: id.nullable(),
  next: id.nullable(),
})
export type TripPage = z.infer<typeof TripPage>

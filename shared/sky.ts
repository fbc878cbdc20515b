import { z } from "zod"
import * as word from "./vocabulary.ts"

const instant = z.iso.datetime().nullable()
const Water = z.object({ kind: z.enum(["high", "low"]), at: z.iso.datetime(), height_m: z.number() })

/** Sun, light, moon, tide and tidal current at one place and instant. Instants are UTC; null where there is none. */
export const Sky = z.object({
  at: z.iso.datetime(),
  sun: z.object({
    altitude_deg: z.number(),
    azimuth_deg: z.number(),
    rise: instant,
    set: instant,
    civil_dawn: instant,
    civil_dusk: instant,
    nautical_dawn: instant,
    nautical_dusk: instant,
  }),
  light: z.enum(word.lights),
  moon: z.object({
    illum: z.number(),
    phase_rad: z.number(),
    age_d: z.number(),
    /** Between the centres of earth and moon. */
    distance_km: z.number(),
    rise: instant,
    set: instant,
    transit: instant,
  }),
  tide: z
    .object({
      station: z.string(),
      datum: z.string(),
      height_m: z.number(),
      stage: z.enum(word.tideStages).nullable(),
      part: z.enum(word.tideParts).nullable(),
      phase_rad: z.number().nullable(),
      rate_m_h: z.number(),
      range_m: z.number().nullable(),
      spring_neap: z.number().nullable(),
      previous: Water.nullable(),
      next: Water.nullable(),
      /** Whether height and rate between high and low water are interpolated. */
      interpolated: z.boolean(),
    })
    .nullable(),
  current: z
    .object({
      station: z.string(),
      speed_ms: z.number(),
      direction_deg: z.number().nullable(),
      stage: z.enum(word.currentStages).nullable(),
      interpolated: z.boolean(),
    })
    .nullable(),
})
export type Sky = z.infer<typeof Sky>

/** The most instants told in one call. */
export const mostInstants = 10_000

/** Where and when: a place, or a station's own; one instant, or one every so many minutes until another. */
export const SkyAsk = z.object({
  place: z.object({ lat: z.number().min(-90).max(90), lon: z.number().min(-180).max(180) }).nullable(),
  /** A tide or current station by id; the nearest in reach where left out. */
  station: z.string().nullable().default(null),
  at: z.int(),
  until: z.int().nullable().default(null),
  every_min: z.number().positive().default(60),
})
export type SkyAsk = z.infer<typeof SkyAsk>

/** What a reader should bear in mind, by a code for programs. */
export const Caution = z.object({ code: z.string(), text: z.string() })

/** The answer, with what stands behind it for people: zone of the civil day, stations and their distances, cautions. */
export const SkyTold = z.object({
  zone: z.string(),
  place: z.object({ lat: z.number(), lon: z.number() }),
  tide: z.string().nullable(),
  current: z.string().nullable(),
  cautions: z.array(Caution),
  told: z.array(Sky),
})
export type SkyTold = z.infer<typeof SkyTold>

import { z } from "zod"
import { entities, stamps } from "./entities.ts"
import { stationKinds } from "./vocabulary.ts"

const lat = z.number().min(-90).max(90)
const lon = z.number().min(-180).max(180)

/** A spot with its id. */
export const Spot = entities.spot.omit({ created_at: true, updated_at: true, deleted_at: true })
export type Spot = z.infer<typeof Spot>

/**
 * What to change of a spot, or a new one where `id` is left out: what is not named stays as it is. `coordinates` is a
 * place as typed, in any usual notation; where a place is given without a zone, the zone follows from it.
 */
export const SpotChange = entities.spot
  .omit(stamps)
  .partial()
  .extend({ id: z.string().optional(), coordinates: z.string().optional() })
export type SpotChange = z.infer<typeof SpotChange>

/** How well a station stands for a place, by its distance alone. */
export const stationFits = ["at the place", "near", "far", "too far"] as const

/** A station seen from a place. `reference` is the station it follows by offsets. */
export const StationSeen = z.object({
  id: z.string(),
  name: z.string(),
  kind: z.enum(stationKinds),
  lat,
  lon,
  own: z.boolean(),
  distance_km: z.number().nullable(),
  reference: z.object({ id: z.string(), name: z.string() }).nullable(),
  fit: z.enum(stationFits).nullable(),
  /** The same in a sentence, with what to look out for. */
  word: z.string(),
})
export type StationSeen = z.infer<typeof StationSeen>

/** A spot in the list: how much was fished there, and the stations its tide and current come from. */
export const SpotListed = Spot.extend({
  stints: z.int(),
  tide: StationSeen.nullable(),
  current: StationSeen.nullable(),
  /** What seems wrong with the place, in a sentence. */
  doubt: z.string().nullable(),
})

const tooFar = "A high or low water cannot be more than 720 minutes from that of its reference."
const waterOffset = z.object({
  minutes: z.number().min(-720, tooFar).max(720, tooFar),
  ratio: z.number().positive("A ratio of heights is above 0.").default(1),
  plus_m: z.number().default(0),
})

/** How a station of the user's own is predicted: from harmonic constants in a file, or by offsets against a known one. */
export const OwnPrediction = z.discriminatedUnion("how", [
  z.object({
    how: z.literal("tide constants"),
    file: z.object({ name: z.string(), bytes: z.instanceof(Uint8Array) }),
    datum: z.string().min(1),
    /** Mean level above that datum, metres. */
    mean_m: z.number(),
    great_diurnal_range_m: z.number().positive("A range is above 0 m.").nullable().default(null),
  }),
  z.object({ how: z.literal("tide offsets"), reference: z.string(), high: waterOffset, low: waterOffset }),
  z.object({
    how: z.literal("current constants"),
    file: z.object({ name: z.string(), bytes: z.instanceof(Uint8Array) }),
    mean_flow_kn: z.number(),
    flood_direction_deg: z.number().min(0).max(360).nullable(),
    ebb_direction_deg: z.number().min(0).max(360).nullable(),
  }),
])
export type OwnPrediction = z.infer<typeof OwnPrediction>

export const OwnStation = z.object({
  name: z.string().min(1, "A station wants a name."),
  lat,
  lon,
  /** Where the constants or offsets come from, with their date. */
  source: z.string().min(1),
  prediction: OwnPrediction,
})

/** Where the stations that come with the product are from. */
export const StationSource = z.object({
  source: z.string(),
  through: z.string(),
  date: z.string(),
  licence: z.string(),
  stations: z.int(),
})

/** A part of the earth, degrees. */
export const Box = z
  .object({ west: lon, south: lat, east: lon, north: lat })
  .refine(({ west, east }) => west < east && east - west <= 30, "A map spans some degrees from west to east.")
  .refine(
    ({ south, north }) => south < north && north - south <= 30,
    "A map spans some degrees from south to north.",
  )

/** Land as rings of longitude and latitude; the first ring of each piece is its outline. */
export const CoastLand = z.array(z.array(z.array(z.tuple([z.number(), z.number()]))))
export type CoastLand = z.infer<typeof CoastLand>

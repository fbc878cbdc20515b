import { z } from "zod"
import { entities, stamps } from "./entities.ts"

/** Length and weight of the user's own weighed fish of a species; null where they are too few. */
export const OwnWeights = z.object({
  /** Weighed and measured fish. */
  fish: z.int(),
  /** Weight in grams is `a` times the length in millimetres to the power `b`. */
  a: z.number(),
  b: z.number(),
  b_low: z.number(),
  b_high: z.number(),
  /** The shortest and longest weighed fish, mm: beyond them no weight is estimated. */
  from_mm: z.number(),
  to_mm: z.number(),
})
export type OwnWeights = z.infer<typeof OwnWeights>

export const SpeciesListed = entities.species.omit(stamps).extend({
  id: z.string(),
  landed: z.int(),
  /** How many were measured and weighed. */ weighed: z.int(),
  weights: OwnWeights.nullable(),
  weights_said: z.string(),
})
export type SpeciesListed = z.infer<typeof SpeciesListed>

export const SpeciesChange = entities.species.omit(stamps).partial().extend({ id: z.string().optional() })
export type SpeciesChange = z.infer<typeof SpeciesChange>

/** Said beside every size, bag or season note. */
export const limitCaution =
  "Your own note, with its date. The local agency's rules govern: look them up before keeping a fish."

export const fishMethods = {
  "species.list": { input: z.object({}), output: z.array(SpeciesListed) },
  "species.save": {
    input: SpeciesChange,
    output: z.object({ id: z.string(), act: z.string() }),
  },
  /** A weight estimated from a length by the user's own weighed fish, with its 95% prediction interval; null where they cannot tell. */
  "species.weight": {
    input: z.object({ species: z.string(), length_mm: z.number().positive() }),
    output: z.object({
      estimated: z.literal(true),
      /** How many weighed fish it stands on. */
      fish: z.int(),
      weight_g: z.number().nullable(),
      low: z.number().nullable(),
      high: z.number().nullable(),
      said: z.string(),
    }),
  },
} as const

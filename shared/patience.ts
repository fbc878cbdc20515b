import { z } from "zod"
import { estimate } from "./estimate.ts"

const number = z.number().nullable()

/** How long to give a spot: the chance of a first strike in the next quarter of an hour, after so long without one. */
export const Patience = z.object({
  question: z.literal("patience"),
  by: z.string(),
  species: z.string().nullable(),
  refused: z.object({ code: z.string(), text: z.string() }).nullable(),
  trips: z.int(),
  /** What is waited in: visits to a spot, or stints with one presentation. */
  unit: z.enum(["stop", "stint"]),
  spells: z.int(),
  with_strike: z.int(),
  /** Spells with strikes but no time of the first. */
  left_out: z.int(),
  levels: z.array(
    z.object({
      level: z.string(),
      spells: z.int(),
      with_strike: z.int(),
      /** After so many dry minutes: spells that lasted so long, and the chance for one rod in the next fifteen. */
      after: z.array(z.object({ minutes: z.int(), spells: z.int() }).extend(estimate.shape)),
    }),
  ),
  /** Whether waiting itself changes the chance, by a likelihood-ratio F test. */
  waiting: z.object({ p: number }),
  cautions: z.array(z.object({ code: z.string(), text: z.string() })),
  sentence: z.string(),
})
export type Patience = z.infer<typeof Patience>

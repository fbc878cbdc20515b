import { z } from "zod"
import { estimate } from "./estimate.ts"

const number = z.number().nullable()

/** From look to landed: of each level what it drew, hooked and landed, and where it loses most against the rest. */
export const Steps = z.object({
  question: z.literal("steps"),
  by: z.string(),
  species: z.string().nullable(),
  refused: z.object({ code: z.string(), text: z.string() }).nullable(),
  trips: z.int(),
  /** Stints in which every step was counted, and those left out. */
  stints: z.int(),
  left_out: z.int(),
  levels: z.array(
    z.object({
      level: z.string(),
      trips: z.int(),
      rod_hours: z.number(),
      /** Follows are counted on fewer stints than the rest; null where on none. */
      follows: estimate.nullable(),
      /** Of the looks, follows and strikes together, those that struck; null as follows are, and where one species is asked about. */
      struck: estimate.nullable(),
      strikes: estimate,
      hooked: estimate,
      landed: estimate,
      /** Hook-ups and landed fish per rod-hour. */
      per_hour: z.object({ hooked: estimate, landed: estimate }),
      counts: z.object({ follows: number, strikes: z.number(), hooked: z.number(), landed: z.number() }),
      /** Each step's rate or share over that of all other levels together. */
      against_rest: z.object({
        struck: z.object({ ratio: number, low: number, high: number }).nullable(),
        strikes: z.object({ ratio: number, low: number, high: number }),
        hooked: z.object({ ratio: number, low: number, high: number }),
        landed: z.object({ ratio: number, low: number, high: number }),
      }),
      /** The step at which it clearly loses most against the rest; null where at none. */
      loses_at: z.enum(["struck", "strikes", "hooked", "landed"]).nullable(),
    }),
  ),
  cautions: z.array(z.object({ code: z.string(), text: z.string() })),
  sentence: z.string(),
})
export type Steps = z.infer<typeof Steps>

import { z } from "zod"
import { entities, stamps } from "./entities.ts"

/** An angler with how many stints name him. */
export const AnglerListed = entities.angler
  .omit(stamps)
  .extend({ id: z.string(), stints: z.int().nonnegative() })
export type AnglerListed = z.infer<typeof AnglerListed>

/** What to change of an angler, or a new one where `id` is left out: what is not named stays as it is. */
export const AnglerChange = entities.angler.omit(stamps).partial().extend({ id: z.string().optional() })
export type AnglerChange = z.infer<typeof AnglerChange>

export const anglerMethods = {
  "anglers.list": { input: z.object({}), output: z.array(AnglerListed) },
  "anglers.save": {
    input: AnglerChange,
    output: z.object({ id: z.string(), act: z.string() }),
  },
} as const

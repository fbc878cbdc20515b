import { z } from "zod"

/** Two levels compared by R, as its scripts record them; `laplace`: the ratio by glmmTMB. */
export const RecordedPair = z.object({
  a: z.string(),
  b: z.string(),
  ratio: z.number(),
  low: z.number(),
  high: z.number(),
  laplace: z.number(),
})

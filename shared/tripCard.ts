import { z } from "zod"

const text = z.string()
const coded = z.object({ code: text, mark: text.nullable(), name: text })

/** What a printed card for the boat holds: the day's tide and light, the user's codes, ten-minute rows, a column a rod. */
export const TripCard = z.object({
  date: text,
  zone: text,
  /** The spot for which tide and light are told; null where the trip has none. */
  spot: text.nullable(),
  rods: z.array(text),
  /** Clocks of the ten-minute rows, as the tape reads them. */
  rows: z.array(text),
  light: z.array(z.object({ word: text, at: text })),
  tide: z
    .object({
      station: text,
      waters: z.array(z.object({ kind: z.enum(["high", "low"]), at: text, height: text })),
    })
    .nullable(),
  spots: z.array(coded),
  presentations: z.array(coded),
  species: z.array(coded),
  /** The letters to write in a row. */
  letters: z.array(z.object({ letter: text, said: text })),
  cautions: text,
})
export type TripCard = z.infer<typeof TripCard>

export const cardMethods = {
  "trips.card": {
    input: z.object({
      trip: z.string(),
      rods: z.int().min(1).max(6).default(2),
      hours: z.int().min(1).max(14).default(10),
    }),
    output: TripCard,
  },
} as const

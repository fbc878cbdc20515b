import { z } from "zod"

/** One act in a logbook's history: what it made, changed or removed, by kind of row, with its name where it is one row. */
export const Act = z.object({
  act: z.string(),
  at: z.int(),
  /** Whether it was an import, which is taken back rather than undone. */
  imported: z.boolean(),
  changes: z.array(
    z.object({
      entity: z.string(),
      did: z.enum(["made", "changed", "removed"]),
      rows: z.int(),
      name: z.string().nullable(),
    }),
  ),
})
export type Act = z.infer<typeof Act>

import { z } from "zod"

/** One act in a logbook's history: what it made, changed or removed, by kind of row, with its name where it is one row. */
export const Act = z.object({
  act: z.string(),
  at: z.int(),
  /** Whether it was an import, which is taken back rather than undone. */
  imported: z.boolean(),
  /** The act in words: its own where it has some, else what it did to which rows. */
  said: z.string(),
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

/** An act that can be undone or done again, in words. */
export const NextAct = z.object({ act: z.string(), said: z.string() })
export type NextAct = z.infer<typeof NextAct>

/** One version of a record: when, by which act, and what it changed. */
const Version = z.object({
  at: z.int(),
  act: z.string(),
  said: z.string(),
  changes: z.array(z.object({ column: z.string(), before: z.unknown(), after: z.unknown() })),
})

export const Deleted = z.object({
  entity: z.string(),
  id: z.string(),
  name: z.string(),
  at: z.int(),
})
export type Deleted = z.infer<typeof Deleted>

const done = z.object({ act: z.string(), said: z.string(), rows: z.int() })
const nothing = z.object({})

export const historyMethods = {
  /** What undo and redo would do now, whoever did it and however long ago. */
  "history.next": {
    input: nothing,
    output: z.object({ undo: NextAct.nullable(), redo: NextAct.nullable() }),
  },
  "history.undo_last": { input: nothing, output: done },
  "history.redo": { input: nothing, output: done },
  "history.of": { input: z.object({ entity: z.string(), id: z.string() }), output: z.array(Version) },
  /** Deleted things with a name or a date, latest first. */
  "history.deleted": { input: nothing, output: z.array(Deleted) },
  "history.bring_back": {
    input: z.object({ entity: z.string(), id: z.string() }),
    output: z.object({ act: z.string(), said: z.string() }),
  },
} as const

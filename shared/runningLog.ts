import { z } from "zod"

const id = z.string()

/** What can be marked with one key while fishing. */
const logMarks = ["follow", "miss", "loss", "bitten off", "landed", "hang-up", "lure lost"] as const

/** A stint that runs: started, not stopped. */
export const Running = z.object({
  stint: id,
  angler: z.string().nullable(),
  spot: z.string().nullable(),
  presentation: z.string().nullable(),
  rods: z.int(),
  start_at: z.int(),
  /** What was marked so far, by kind. */
  marks: z.record(z.enum(logMarks), z.int()),
})
export type Running = z.infer<typeof Running>

export const LogState = z.object({
  trip: id,
  running: z.array(Running),
  /** The time by the core's clock. */
  now: z.int(),
  /** The strike, hang-up and so on last marked, to be taken back by undo. */
  act: z.string().nullable(),
  said: z.string().nullable(),
})
export type LogState = z.infer<typeof LogState>

/** One key of the running log. Codes or ids name spots, presentations, species and anglers. */
export const LogAct = z.discriminatedUnion("do", [
  /** Starts a stint; the same angler's running one is stopped. What is left out carries on from the last stint. */
  z.object({
    do: z.literal("start"),
    angler: z.string().optional(),
    spot: z.string().optional(),
    presentation: z.string().optional(),
    rods: z.int().positive().optional(),
    why: z.string().optional(),
  }),
  z.object({
    do: z.literal("mark"),
    stint: id,
    mark: z.enum(logMarks),
    species: z.string().optional(),
    /** In the reader's units: "24", "61 cm". */
    length: z.string().optional(),
    kept: z.boolean().optional(),
  }),
  z.object({ do: z.literal("stop"), stint: id }),
])
export type LogAct = z.infer<typeof LogAct>

export const logMethods = {
  "log.state": { input: z.object({ trip: id }), output: LogState },
  /** Done when it is on disk: a crash right after it loses nothing. */
  "log.act": { input: z.object({ trip: id, act: LogAct }), output: LogState },
} as const

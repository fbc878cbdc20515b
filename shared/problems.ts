import { z } from "zod"

/**
 * What can go wrong, by code. A problem crosses every boundary as `{code, message, details}`: the message is a sentence
 * a user can act on, the details are for programs.
 */
const problemCodes = [
  "no_logbook",
  "file_missing",
  "file_exists",
  "not_a_file",
  "not_a_logbook",
  "newer_logbook",
  "damaged_logbook",
  "locked",
  "read_only",
  "disk_full",
  "disk_failed",
  "table_unreadable",
  "map_unclear",
  "rows_refused",
  "unknown_batch",
  "unknown_zone",
  "unknown_station",
  "station_unreadable",
  "unknown_act",
  "changed_since",
  "is_import",
  "bad_ask",
  "bad_input",
  "unknown_method",
  "cancelled",
  "internal",
] as const
export type ProblemCode = (typeof problemCodes)[number]

export const Problem = z.object({
  code: z.enum(problemCodes),
  message: z.string(),
  details: z.record(z.string(), z.unknown()),
})
export type Problem = z.infer<typeof Problem>

/** A problem on its way to the user. Throw it anywhere; the service turns it into the envelope's `problem`. */
export class ProblemError extends Error {
  readonly problem: Problem

  constructor(code: ProblemCode, message: string, details: Record<string, unknown> = {}) {
    super(message)
    this.name = "ProblemError"
    this.problem = { code, message, details }
  }
}

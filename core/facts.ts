import type { FactorId } from "../shared/factors.ts"
import type { ChangeReason, Fate, LengthType } from "../shared/vocabulary.ts"

/** One factor over the stints: a number (NaN unknown), or the position of a level (-1 unknown). */
export type FactColumn =
  | { readonly kind: "number"; readonly values: Float64Array }
  | { readonly kind: "level"; readonly codes: Int32Array; readonly levels: readonly string[] }

/** A table of strikes beside the stints: which stint (its position), fate, species (-1 unknown), length (NaN) and time (UTC ms,
 *  NaN). */
export type StrikeFacts = {
  readonly stint: Int32Array
  readonly fate: readonly Fate[]
  readonly species: Int32Array
  readonly length_mm: Float64Array
  readonly at: Float64Array
}

/**
 * What the analysis sees of a logbook: the stints of closed trips as columns, one position a stint. Effort in
 * rod-hours (NaN unknown); outcomes as counts (NaN where not counted). It can be sent to another thread.
 */
export type Facts = {
  /** Grows with every change of the logbook. */
  readonly version: number
  readonly stints: number
  /** A trip's name for the reader: its label with its date, or its date. */
  readonly trips: readonly string[]
  /** The same trips by their ids in the logbook, for whoever is to open one; the analysis reads none. */
  readonly trip_ids: readonly string[]
  readonly species: readonly string[]
  /** How each of the species is measured; null where that is not noted. */
  readonly length_types: readonly (LengthType | null)[]
  /** Position in `trips`. */
  readonly trip: Int32Array
  /** Number of the stop. */
  readonly stop: Int32Array
  /** 1 where the stint may be compared with others of its stop: the spot is known and the effort is its own. */
  readonly same_stop: Uint8Array
  /** 1 where the trip holds all of its effort. */
  readonly complete: Uint8Array
  /** 1 where the effort was measured by a clock. */
  readonly clocked: Uint8Array
  /** 1 where each row of a table had to be taken as a trip of its own. */
  readonly row_is_trip: Uint8Array
  /** The trip's target, as a position in `species`; -1 none. */
  readonly target: Int32Array
  readonly rod_hours: Float64Array
  /** Minutes by the clock actually fished, whatever the rods (NaN unknown). */
  readonly minutes: Float64Array
  /** UTC ms (NaN unknown). */
  readonly start: Float64Array
  readonly end: Float64Array
  /** Why the stint ended; null where that was not noted. */
  readonly why_changed: readonly (ChangeReason | null)[]
  /** 1 where the trip was written down at night or later. */
  readonly late: Uint8Array
  readonly follows: Float64Array
  readonly strikes: Float64Array
  readonly hook_ups: Float64Array
  readonly landed: Float64Array
  readonly hang_ups: Float64Array
  readonly strike: StrikeFacts
  readonly factors: Partial<Record<FactorId, FactColumn>>
}

import type { FactorId } from "../../shared/factors.ts"
import type { Completeness, Fate } from "../../shared/vocabulary.ts"

/** Where a table's bytes come from. They may be read more than once; nothing else is known of the place. */
export type TableSource = {
  readonly name: string
  readonly size: number
  bytes(): AsyncIterable<Uint8Array>
}

/** A cell or a row that was not taken, and why. `column` is the table's own header, null where the whole row is meant. */
export type Refusal = {
  readonly file: string
  readonly line: number
  readonly column: string | null
  readonly value: string | null
  readonly reason: string
}

/** Counts of one row; null where the cell is empty, which is unknown and never zero. */
export type Counts = {
  readonly strikes: number | null
  readonly hook_ups: number | null
  readonly landed: number | null
}

/** Counts that belong to one species, or to all fish together where the species is null. */
export type SpeciesCounts = Counts & { readonly species: string | null }

/**
 * One row of a stints table, read and in SI units, not yet joined to trips. Words of free lists are as typed, trimmed;
 * fixed words are in the vocabulary's spelling. A row that could not be read in full is a Refusal instead.
 */
export type RowDraft = {
  readonly file: string
  /** Physical line on which the record starts, from 1, header and title lines counted. */
  readonly line: number
  /** Hash of all non-empty cells with their headers, trimmed, spaces folded, case ignored, columns sorted. */
  readonly hash: string
  /** The same without the species and the count columns: rows that share it are one stint. */
  readonly stint_hash: string
  readonly trip: string | null
  readonly stop: string | null
  /** The row's name for the strikes table: its `stint` cell, or its number among the data rows from 1. */
  readonly stint: string
  readonly date: string
  /** The IANA zone in which the row's times were read. */
  readonly zone: string
  readonly start_at: number | null
  readonly end_at: number | null
  readonly effort_minutes: number | null
  readonly effort_source: "clocked" | "given" | null
  readonly rods: number
  readonly completeness: Completeness
  readonly angler: string | null
  readonly spot: string | null
  readonly lat: number | null
  readonly lon: number | null
  readonly station: string | null
  readonly target: string | null
  /**
   * Counts of the row: one entry, or one a species where count columns are split by species. Columns that are not split
   * beside such ones come first, as an entry without a species; what an entry has no column for is null there.
   */
  readonly counts: readonly SpeciesCounts[]
  readonly follows: number | null
  readonly hang_ups: number | null
  readonly lures_lost: number | null
  readonly notes: string | null
  /** Every factor cell that was filled in: numbers in the factor's own unit, else words. */
  readonly factors: ReadonlyMap<FactorId, number | string>
}

/** One row of a strikes table. `stint` names a row of the stints table as in RowDraft. */
export type StrikeDraft = {
  readonly file: string
  readonly line: number
  readonly stint: string
  readonly fate: Fate
  readonly species: string | null
  readonly length_mm: number | null
  readonly weight_g: number | null
  readonly kept: 0 | 1 | null
  readonly at: number | null
  readonly took_on: "fall" | "pause" | "move" | null
}

/** How one column of a table was understood; `target` null where it is not used. */
export type ColumnReading = {
  readonly file: string
  readonly column: string
  readonly target: string | null
  /** In words: "minutes", "landed, kokanee", "water_temp_c, from °F", "not used". */
  readonly reading: string
}

/** What the user said about the tables beyond their cells. */
export type ReadOptions = {
  /** Each as typed: `Their column=ours`, `Year+Month+Day=date`, `KOCatch=landed:kokanee`, `RodHours=rod_hours`. */
  readonly map: readonly string[]
  /** IANA zone for rows that do not say; null where the user did not say either. */
  readonly zone: string | null
  /** Zones of spots already known, by the spot's name in lower case. */
  readonly spot_zones: ReadonlyMap<string, string>
  readonly home_zone: string | null
  /** The present instant: dates later than tomorrow are refused. */
  readonly now: number
}

/** All that was read from the tables. Good rows and refusals together account for every record. */
export type TablesRead = {
  readonly rows: readonly RowDraft[]
  /** Null where no strikes table was among the files. */
  readonly strikes: readonly StrikeDraft[] | null
  readonly refusals: readonly Refusal[]
  readonly columns: readonly ColumnReading[]
  /** Records read, refused ones included, blank lines and title lines not. */
  readonly records: number
  readonly ignored_lines: readonly { readonly file: string; readonly line: number }[]
  /** Sentences on what had to be assumed: delimiter, encoding, date order, zone, rods, decimal comma. */
  readonly assumptions: readonly string[]
  /** Whether the stints table has a column for each count (an absent column is not an empty cell). */
  readonly count_columns: { readonly strikes: boolean; readonly hook_ups: boolean; readonly landed: boolean }
}

import type { Refusal } from "../draft.ts"
import { readCell, type KeptColumn, type StationColumn, type Values } from "./kept.ts"

/** One row of a station's file: an instant (UTC ms) and what was measured then, in SI units. */
export type StationRow = { readonly line: number; readonly at: number; readonly values: Values }

/** A reading to be stored with a trip. */
export type PlannedReading = { readonly trip_id: string; readonly at: number; readonly values: Values }

/** What is learnt of a file while its rows are read. */
export type Notes = {
  readonly file: string
  /** In the order of the file; `missing` counts the rows in which nothing was measured. */
  readonly columns: Map<
    string,
    { readonly target: KeptColumn | null; readonly unit: string | null; missing: number }
  >
  readonly assumptions: string[]
}

export const isRefusal = (found: StationRow | Refusal): found is Refusal => "reason" in found

/** A line or a cell that is not taken. Of a long text only the beginning is told. */
export const refusal = (
  file: string,
  line: number,
  reason: string,
  column: string | null = null,
  value: string | null = null,
): Refusal => ({ file, line, column, value: value === null ? null : value.slice(0, 60), reason })

/** Reads the kept cells of a row; the first that cannot be taken refuses the row. A later column wins over an earlier. */
export function readRow(
  line: number,
  at: number,
  cells: readonly string[],
  columns: readonly StationColumn[],
  notes: Notes,
): StationRow | Refusal {
  const values: { -readonly [C in keyof Values]: Values[C] } = {}
  for (const column of columns) {
    const text = cells[column.cell] ?? ""
    const found = readCell(text, column)
    if (found.kind === "refused") return refusal(notes.file, line, found.reason, column.header, text.trim())
    const note = notes.columns.get(column.header)
    if (found.value !== null) values[column.target] = found.value
    else if (note !== undefined) note.missing++
  }
  return { line, at, values }
}

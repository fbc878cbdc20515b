import type { Refusal } from "../draft.ts"
import { readCell, type ReadColumn, type StationColumn, type Values } from "./kept.ts"
import { practicalSalinity, standardConductivity } from "./practicalSalinity.ts"

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
    { readonly target: ReadColumn | null; readonly unit: string | null; missing: number }
  >
  readonly assumptions: string[]
  /** Rows whose salinity was worked out from conductivity, and those in which it could not be. */
  readonly salinities: { workedOut: number; unknown: number }
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

/**
 * Reads the cells of a row; the first that cannot be taken refuses the row. A later column wins over an earlier. Where a row
 * tells conductivity and no salinity, that is worked out; a conductivity that cannot be read costs the row nothing else.
 */
export function readRow(
  line: number,
  at: number,
  cells: readonly string[],
  columns: readonly StationColumn[],
  notes: Notes,
): StationRow | Refusal {
  const found: { [C in ReadColumn]?: number } = {}
  for (const column of columns) {
    const text = cells[column.cell] ?? ""
    const cell = readCell(text, column)
    const beside = column.target === "conductivity"
    if (cell.kind === "refused" && !beside)
      return refusal(notes.file, line, cell.reason, column.header, text.trim())
    const note = notes.columns.get(column.header)
    if (cell.kind === "read" && cell.value !== null) found[column.target] = cell.value
    else if (note !== undefined) note.missing++
  }
  const { conductivity, ...values } = found
  if (conductivity === undefined || values.salinity_psu !== undefined) return { line, at, values }
  const salinity_psu = salinityOf(conductivity, values)
  notes.salinities[salinity_psu === null ? "unknown" : "workedOut"]++
  return { line, at, values: salinity_psu === null ? values : { ...values, salinity_psu } }
}

/** Salinity near the surface, to the hundredth that stations give; null without the water's temperature or off the scale. */
function salinityOf(conductivity: number, { water_temp_c }: Values): number | null {
  if (water_temp_c === undefined) return null
  const salinity = practicalSalinity(conductivity / standardConductivity, water_temp_c, 0)
  return salinity === null ? null : Math.round(salinity * 100) / 100
}

import { stringify } from "csv-stringify/sync"
import { writeFormulaText } from "../formula.ts"
import type { Cell, Table } from "./tables.ts"

/** A cell as it is written: text in a form that no spreadsheet takes for a formula, numbers as they are. */
export const safeCell = (cell: Cell): Cell => (typeof cell === "string" ? writeFormulaText(cell) : cell)

/** A table as RFC 4180 CSV in UTF-8, numbers as numbers. */
export function toCsv(table: Table): Uint8Array {
  const rows = table.rows.map((row) => row.map(safeCell))
  return new TextEncoder().encode(stringify([[...table.head], ...rows], { record_delimiter: "\r\n" }))
}

import writeWorkbook from "write-excel-file/node"
import { safeCell } from "./csv.ts"
import type { Table } from "./tables.ts"

/** Tables as the sheets of one XLSX file. Text stays text: no cell holds a formula. */
export async function toWorkbook(tables: readonly Table[]): Promise<Uint8Array> {
  return writeWorkbook(
    tables.map((table) => ({
      sheet: table.name,
      data: [[...table.head], ...table.rows.map((row) => row.map(safeCell))],
    })),
  ).toBuffer()
}

/** One record of a table, whatever the file's format: the physical line it starts on and its cells as written. */
export type TableRecord = {
  readonly line: number
  readonly cells: readonly string[]
  /** Set where the cells cannot be trusted: which cell (from 0) broke the record, and how. */
  readonly broken: { readonly cell: number; readonly reason: string } | null
}

/** A table whose records can be gone through more than once. */
export type Table = {
  /** As refusals name it: the file, and the sheet where a workbook has several. */
  readonly name: string
  /** What its sheet's name says it is. */
  readonly named: "stints" | "strikes" | null
  readonly delimiter: string | null
  /** What had to be assumed to read it at all. */
  readonly assumptions: readonly string[]
  records(): AsyncIterable<TableRecord> | Iterable<TableRecord>
}

export const mostColumns = 1000
/** As many as a sheet of a common spreadsheet holds. */
export const mostRecords = 1_048_576

export const isBlank = (record: TableRecord): boolean =>
  record.broken === null && record.cells.every((cell) => cell.trim() === "")

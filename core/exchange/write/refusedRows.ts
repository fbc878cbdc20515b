import type { TableSource } from "../draft.ts"
import { headerName, layOut } from "../read/layout.ts"
import { readMappings } from "../read/map.ts"
import { openTables } from "../read/readTables.ts"
import type { Cell, Table } from "./tables.ts"

/** What is said of a row that was not taken. */
type Refused = { readonly file: string; readonly line: number; readonly reason: string }

/**
 * The rows of tables that were refused, as tables of the same header with the reasons in a last column: to be mended and
 * imported again. Tables without a refused row are left out. Throws as `readTables` does.
 */
export async function refusedTables(
  sources: readonly TableSource[],
  map: readonly string[],
  refused: readonly Refused[],
  signal: AbortSignal,
): Promise<Table[]> {
  const mappings = readMappings(map)
  const tables: Table[] = []
  for (const table of await openTables(sources, mappings, signal)) {
    const reasons = Map.groupBy(
      refused.filter(({ file }) => file === table.name),
      ({ line }) => line,
    )
    if (reasons.size === 0) continue
    const { headers } = await layOut(table, mappings)
    const rows: Cell[][] = []
    for await (const { line, cells } of table.records()) {
      const why = reasons.get(line)
      if (why === undefined) continue
      const whole = headers.map((_, cell) => asWritten(cells[cell] ?? ""))
      rows.push([...whole, [...new Set(why.map(({ reason }) => reason))].join(" ")])
    }
    const head = headers.map((_, cell) => headerName(headers, cell))
    tables.push({
      name: `${table.name.replace(/\.\w+$/, "")} refused`,
      head: [...head, "Refused because"],
      rows,
    })
  }
  return tables
}

/** A plain number as one, so that its minus sign is not taken for the beginning of a formula; else the text. */
function asWritten(cell: string): Cell {
  const value = Number(cell)
  return Number.isFinite(value) && String(value) === cell ? value : cell
}

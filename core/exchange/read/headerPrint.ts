import { createHash } from "node:crypto"
import { readFormulaText } from "../formula.ts"
import type { TableSource } from "../draft.ts"
import { fold } from "./fold.ts"
import { headerWithin, layOut } from "./layout.ts"
import { readMappings } from "./map.ts"
import { openTables } from "./readTables.ts"
import { isBlank } from "./table.ts"

/** A header's fingerprint, whatever the case, accents, spaces and order of its columns; null for a record without words. */
function headerPrint(cells: readonly string[]): string | null {
  const names = cells.map((cell) => fold(readFormulaText(cell))).filter((name) => name !== "")
  return names.length === 0
    ? null
    : createHash("sha256").update(names.toSorted().join("\u001F")).digest("hex")
}

/** A header's fingerprint and those of the mappings, as typed, that named its columns. */
export type MappedHeader = { readonly print: string; readonly map: readonly string[] }

/** The headers of tables as they are laid out with mappings. Throws as `readTables` does. */
export async function mappedHeaders(
  sources: readonly TableSource[],
  map: readonly string[],
  signal: AbortSignal,
): Promise<MappedHeader[]> {
  const mappings = readMappings(map)
  const found: MappedHeader[] = []
  for (const table of await openTables(sources, mappings, signal)) {
    const { headers, mapped } = await layOut(table, mappings)
    const print = headerPrint(headers)
    if (print !== null && mapped.size > 0) found.push({ print, map: [...mapped].map(({ text }) => text) })
  }
  return found
}

/**
 * The mappings, of those kept by header, whose header stands in one of the tables: what was said of a table like it before.
 * Throws as `readTables` does where a file is no table.
 */
export async function mappingsFor(
  sources: readonly TableSource[],
  kept: ReadonlyMap<string, readonly string[]>,
  signal: AbortSignal,
): Promise<string[]> {
  if (kept.size === 0) return []
  const found = new Set<string>()
  for (const table of await openTables(sources, readMappings([...kept.values()].flat()), signal)) {
    let seen = 0
    for await (const record of table.records()) {
      const print = headerPrint(record.cells)
      const map = print === null ? undefined : kept.get(print)
      for (const text of map ?? []) found.add(text)
      if (!isBlank(record)) seen++
      if (map !== undefined || seen === headerWithin) break
    }
  }
  return [...found]
}

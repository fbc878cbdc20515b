import { z } from "zod"
import type { CallContext } from "../../../shared/api.ts"
import { ImportSettings, type ImportDone } from "../../../shared/imports.ts"
import type { TableSource } from "../../../core/exchange/draft.ts"
import { bringUpToDate } from "../../../core/service/conditions.ts"
import { runImport } from "../../../core/service/imports.ts"
import type { Logbook } from "../../../core/store/logbook.ts"

export const context: CallContext = { signal: new AbortController().signal, progress: () => undefined }

/** A table from its text or bytes, as a host hands it over. */
export function sourceOf(name: string, content: string | Uint8Array): TableSource {
  const bytes = typeof content === "string" ? new TextEncoder().encode(content) : content
  return {
    name,
    size: bytes.length,
    bytes: async function* () {
      yield bytes
    },
  }
}

/** Imports tables, by file name, into a logbook, and works out the conditions. */
export const importTables = async (
  book: Logbook,
  tables: Readonly<Record<string, string | Uint8Array>>,
  settings: z.input<typeof ImportSettings> = {},
): Promise<ImportDone> => {
  const sources = Object.entries(tables).map(([name, content]) => sourceOf(name, content))
  const done = await runImport(book, sources, ImportSettings.parse(settings), context)
  await bringUpToDate(book)
  return done
}

const Rows = z.array(z.record(z.string(), z.union([z.string(), z.number(), z.null()])))

/** Columns of stint_fact for every stint, in the order of the record. */
export const factRows = (book: Logbook, ...columns: string[]) =>
  Rows.parse(
    book.db
      .prepare(
        `SELECT ${columns.join(", ")} FROM stint_fact ORDER BY trip_date, trip_id, stop_ordinal, stint_ordinal`,
      )
      .all(),
  )

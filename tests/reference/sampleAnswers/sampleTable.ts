import { createHash } from "node:crypto"
import { mkdtempSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import type { Facts } from "../../../core/facts.ts"
import { newSampleBook, usualSample } from "../../../core/service/sample.ts"
import { readFacts } from "../../../core/store/readFacts.ts"
import { factorIds, type FactorId } from "../../../shared/factors.ts"

/** The facts of the sample logbook, made as `stintbook demo` makes it, every factor in. */
export async function sampleFacts(): Promise<Facts> {
  const folder = mkdtempSync(join(tmpdir(), "stintbook-sample-"))
  const watch = { signal: new AbortController().signal, progress: () => undefined }
  const { book } = await newSampleBook(join(folder, "sample.stintbook"), usualSample, watch)
  try {
    return book.read((db) => readFacts(db, factorIds, 1))
  } finally {
    book.close()
    rmSync(folder, { recursive: true })
  }
}

/** The factors that R is given: what is compared and what is held alike, as they stand in the logbook. */
const factors: readonly FactorId[] = [
  "lure_class",
  "day_of_year",
  "light",
  "tide_phase_rad",
  "water_temp_c",
  "angler",
  "rods",
  "order_in_stop",
  "spot",
]

/** One row a stint: trip, effort, outcomes and factors, unknown ones empty. */
export function sampleTable(facts: Facts): string {
  const cell = (value: number | undefined): string =>
    value === undefined || Number.isNaN(value) ? "" : String(value)
  const factorCell = (id: FactorId, i: number): string => {
    const column = facts.factors[id]
    if (column === undefined) return ""
    return column.kind === "number" ? cell(column.values[i]) : (column.levels[column.codes[i] ?? -1] ?? "")
  }
  const rows = Array.from({ length: facts.stints }, (_, i) =>
    [
      facts.trip[i],
      facts.complete[i],
      cell(facts.rod_hours[i]),
      cell(facts.landed[i]),
      cell(facts.strikes[i]),
      ...factors.map((id) => factorCell(id, i)),
    ].join(","),
  )
  return `${["trip,complete,hours,landed,strikes," + factors.join(","), ...rows].join("\n")}\n`
}

export const fingerprint = (table: string): string => createHash("sha256").update(table).digest("hex")

import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect } from "vitest"
import type { ReadOptions, RowDraft, TablesRead } from "../../../core/exchange/draft.ts"
import { readTables } from "../../../core/exchange/read/readTables.ts"
import { type Problem, ProblemError } from "../../../shared/problems.ts"
import { sourceOf } from "./importing.ts"

const data = join(import.meta.dirname, "../../data")

const usual: ReadOptions = {
  map: [],
  zone: null,
  spot_zones: new Map(),
  home_zone: null,
  now: Date.UTC(2026, 11, 1),
}

/** Reads tables given by file name. */
export const readFiles = (
  tables: Readonly<Record<string, string | Uint8Array>>,
  options: Partial<ReadOptions> = {},
): Promise<TablesRead> =>
  readTables(
    Object.entries(tables).map(([name, content]) => sourceOf(name, content)),
    { ...usual, ...options },
  )

/** Reads one table from its lines. */
export const readLines = (
  lines: readonly string[],
  options: Partial<ReadOptions> = {},
): Promise<TablesRead> => readFiles({ "log.csv": lines.join("\n") }, options)

/** Reads a file of tests/data. */
export const readDataFile = (path: string, options: Partial<ReadOptions> = {}): Promise<TablesRead> =>
  readFiles({ [path.split("/").at(-1) ?? path]: readFileSync(join(data, path)) }, options)

export const dataText = (path: string): string => readFileSync(join(data, path), "utf8")

/** The only row of a table that must have read without a refusal. */
export function onlyRow(read: TablesRead): RowDraft {
  const [row, more] = read.rows
  if (row === undefined || more !== undefined || read.refusals.length > 0) {
    throw new Error(`one row wanted: ${read.rows.length} rows, ${JSON.stringify(read.refusals)}`)
  }
  return row
}

/** Refusals as "line column: reason", for comparing. */
export const refusalsOf = (read: TablesRead): string[] =>
  read.refusals.map(({ line, column, reason }) => `${line} ${column ?? "row"}: ${reason}`)

/** The problem that a promise fails with. */
export async function problemOf(failing: Promise<unknown>): Promise<Problem> {
  try {
    await failing
  } catch (error) {
    if (error instanceof ProblemError) return error.problem
    throw error
  }
  throw new Error("nothing went wrong")
}

export const rodHours = (rows: readonly RowDraft[]): number =>
  rows.reduce((sum, row) => sum + ((row.effort_minutes ?? 0) * row.rods) / 60, 0)

export const landedOf = (rows: readonly RowDraft[]): number =>
  rows.reduce((sum, row) => sum + row.counts.reduce((fish, { landed }) => fish + (landed ?? 0), 0), 0)

/** Stands for a number within half a unit of the ninth decimal: only rounding is left. */
export const near = (value: number): unknown => expect.closeTo(value, 9)

/** Stands for any text that holds this. */
export const holding = (text: string): unknown => expect.stringContaining(text)

import { setImmediate } from "node:timers/promises"
import readWorkbook from "read-excel-file/node"
import type { TableSource } from "../draft.ts"
import { fold } from "./fold.ts"
import { piecesOf, refuseIfCancelled, unreadable } from "./source.ts"
import { type Table, type TableRecord, mostColumns, mostRecords } from "./table.ts"
import { ZipProblem, pack, unpack } from "./zip.ts"

const mostBytes = 64 * 1024 * 1024
const mostCells = 20_000_000

/** Whether a file begins like an XLSX workbook (a ZIP file). */
export const isWorkbook = (head: Uint8Array): boolean =>
  head[0] === 0x50 && head[1] === 0x4b && head[2] === 0x03 && head[3] === 0x04

/** Whether a file begins like a workbook of the kind before XLSX. */
export const isOldWorkbook = (head: Uint8Array): boolean =>
  head[0] === 0xd0 && head[1] === 0xcf && head[2] === 0x11 && head[3] === 0xe0

/**
 * Opens the tables of a workbook: the sheets named stints and strikes, else its first sheet. Cells become text as a plain
 * table would have it; a row's line is its number in the sheet. Throws ProblemError "table_unreadable".
 */
export async function openWorkbook(source: TableSource, signal: AbortSignal | undefined): Promise<Table[]> {
  const pieces: Uint8Array[] = []
  let size = 0
  for await (const piece of piecesOf(source, signal)) {
    size += piece.length
    if (size > mostBytes)
      throw unreadable(source.name, "the workbook is larger than 64 MiB; save its sheets as CSV.")
    pieces.push(piece)
  }
  const sheets = await sheetsOf(source.name, Buffer.concat(pieces))
  const named = sheets.filter(({ sheet }) => nameOf(sheet) !== null)
  const used = named.length > 0 ? named : sheets.slice(0, 1)
  const unused = sheets.filter((sheet) => !used.includes(sheet) && sheet.data.length > 0)
  return used.map(({ sheet, data }, at) => ({
    name: used.length === 1 ? source.name : `${source.name} (${sheet})`,
    named: nameOf(sheet),
    delimiter: null,
    assumptions:
      at > 0 || unused.length === 0
        ? []
        : [`Of ${source.name}, the sheets ${unused.map((one) => one.sheet).join(", ")} were not read.`],
    records: () => recordsOf(data, signal),
  }))
}

const nameOf = (sheet: string): Table["named"] => {
  const name = fold(sheet)
  return name === "stints" || name === "strikes" ? name : null
}

type Sheet = { readonly sheet: string; readonly data: readonly (readonly unknown[])[] }

async function sheetsOf(file: string, bytes: Buffer): Promise<Sheet[]> {
  try {
    const parts = unpack(bytes, (name) => name.endsWith(".xml") || name.endsWith(".rels"))
    checkSize(parts)
    return await readWorkbook(pack(parts), { trim: false })
  } catch (error) {
    const why = error instanceof ZipProblem ? ` (${error.message})` : ""
    throw unreadable(file, `this is not an XLSX workbook that can be read${why}; save it again, or as CSV.`, {
      cause: error instanceof Error ? error.message : String(error),
    })
  }
}

const rowOrCell = /<(?:\w+:)?(?:row|c)\b(?:[^>"']|"[^"]*"|'[^']*')*?\sr\s*=\s*("[^"]*"|'[^']*')/g

/** A cell may say that it stands in any row and column, and the sheet is filled up to there: refuse what no sheet has. */
function checkSize(parts: ReadonlyMap<string, Buffer>): void {
  for (const xml of parts.values()) {
    let rows = 0
    let columns = 0
    for (const [, quoted = ""] of xml.toString("latin1").matchAll(rowOrCell)) {
      const place = /^["']([A-Z]{0,3})(\d{1,7})["']$/.exec(quoted)
      if (place === null) throw new ZipProblem("names a cell that no sheet has")
      rows = Math.max(rows, Number(place[2]))
      columns = Math.max(columns, columnNumber(place[1] ?? ""))
    }
    if (rows > mostRecords) throw new ZipProblem("has more than 1,048,576 rows")
    if (columns > mostColumns) throw new ZipProblem(`has ${columns} columns; at most 1,000 are read`)
    if (rows * columns > mostCells) throw new ZipProblem("has more than 20 million cells")
  }
}

const columnNumber = (letters: string): number =>
  Array.from(letters).reduce((number, letter) => number * 26 + letter.charCodeAt(0) - 64, 0)

async function* recordsOf(
  rows: readonly (readonly unknown[])[],
  signal: AbortSignal | undefined,
): AsyncGenerator<TableRecord> {
  for (const [at, row] of rows.entries()) {
    if (at % 1000 === 0) {
      refuseIfCancelled(signal)
      await setImmediate()
    }
    yield { line: at + 1, cells: row.map(cellText), broken: null }
  }
}

/** A cell as a plain table would have it: ISO dates, clock times for times without a day, numbers with a point. */
function cellText(value: unknown): string {
  if (value === null || value === undefined) return ""
  if (value instanceof Date) return dateText(value)
  if (typeof value === "string") return value.replaceAll(/\r\n?/g, "\n")
  return typeof value === "number" || typeof value === "boolean" ? String(value) : ""
}

/** Day 0 of spreadsheets. Times without a day are counted from it, and so are stretches of time. */
const dayZero = Date.UTC(1899, 11, 30)
const dayMs = 86_400_000

function dateText(value: Date): string {
  const ms = Math.round(value.getTime() / 1000) * 1000
  const sinceZero = ms - dayZero
  if (sinceZero >= 0 && sinceZero < 366 * dayMs) return clock(sinceZero)
  const [date = "", time = ""] = new Date(ms).toISOString().split("T")
  return ms % dayMs === 0 ? date : `${date} ${time.slice(0, 8)}`
}

function clock(ms: number): string {
  const seconds = Math.floor(ms / 1000)
  const two = (n: number): string => String(n).padStart(2, "0")
  return `${two(Math.floor(seconds / 3600))}:${two(Math.floor(seconds / 60) % 60)}:${two(seconds % 60)}`
}

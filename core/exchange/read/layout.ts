import { ProblemError } from "../../../shared/problems.ts"
import type { ColumnReading } from "../draft.ts"
import { fold, spaced } from "./fold.ts"
import { readFormulaText } from "../formula.ts"
import { type Mapping, sameTarget, sourcesIn } from "./map.ts"
import { unreadable } from "./source.ts"
import { type Table, type TableRecord, isBlank, mostColumns } from "./table.ts"
import { type TableKind, type Target, describe, recognise, targetKey } from "./targets.ts"

/** One thing that every row of a table says: from which cells, under which header, and what it means. */
export type Column = { readonly header: string; readonly cells: readonly number[]; readonly target: Target }

/** How a table is laid out: its header, and what each column means. */
export type Layout = {
  readonly table: Table
  readonly kind: TableKind
  readonly headerLine: number
  readonly headers: readonly string[]
  readonly columns: readonly Column[]
  readonly readings: readonly ColumnReading[]
  /** The mappings that named columns of this table. */
  readonly mapped: ReadonlySet<Mapping>
}

/** The header is among this many records. */
export const headerWithin = 20
const kinds = ["stints", "strikes"] as const

/** How many cells of a record are headers that we know or that a mapping names, in whichever kind of table knows more. */
export const headersKnown =
  (mappings: readonly Mapping[]) =>
  (cells: readonly string[]): number => {
    const named = new Set(mappings.flatMap(({ left }) => [left, ...left.split("+")]).map(fold))
    const known = (kind: TableKind): number =>
      cells.filter((cell) => cell.trim() !== "" && (named.has(fold(cell)) || recognise(cell, kind) !== null))
        .length
    return Math.max(...kinds.map(known))
  }

/**
 * Finds the header of a table, the record among the first 20 that holds the most headers we know, and what its columns
 * mean. Throws ProblemError "table_unreadable" where there is none, and "map_unclear" where a header fits two of ours.
 */
export async function layOut(table: Table, mappings: readonly Mapping[]): Promise<Layout> {
  const header = await findHeader(table, mappings)
  const headers = header.cells.map((cell) => readFormulaText(cell))
  const kind = table.named ?? kindOf(headers, mappings)
  const { columns, ignored, mapped } = mappedColumns(table.name, headers, kind, mappings)
  addRecognised(table.name, headers, kind, columns, ignored)
  const layout = { table, kind, headerLine: header.line, headers, columns: [...columns.values()], mapped }
  requireColumns(layout)
  return { ...layout, readings: readingsOf(layout, ignored) }
}

async function findHeader(table: Table, mappings: readonly Mapping[]): Promise<TableRecord> {
  const known = headersKnown(mappings)
  let best: { record: TableRecord; known: number } | null = null
  let seen = 0
  for await (const record of table.records()) {
    if (record.cells.length > mostColumns) {
      throw unreadable(
        table.name,
        `line ${record.line} has ${record.cells.length} columns; at most 1,000 are read.`,
        {
          line: record.line,
        },
      )
    }
    const found = record.broken === null ? known(record.cells) : 0
    if (found > (best?.known ?? 0)) best = { record, known: found }
    if (!isBlank(record)) seen++
    if (seen === headerWithin) break
  }
  if (best !== null) return best.record
  throw unreadable(
    table.name,
    seen === 0
      ? "there is nothing in it."
      : "no line of headers was found. It has names such as date, start, end, hours, rods, landed, lure_class; " +
          'other names can be given a meaning (--map "Their column=ours").',
  )
}

/** A table that names a stint and a fate is one of strikes. */
function kindOf(headers: readonly string[], mappings: readonly Mapping[]): TableKind {
  const meanings = new Set(headers.map((header) => keyOf(recognise(header, "strikes"))))
  for (const mapping of mappings) {
    if (mapping.meaning.strikes && sourcesIn(mapping, headers) !== null)
      meanings.add(targetKey(mapping.meaning.strikes))
  }
  return meanings.has("stint") && meanings.has("fate") ? "strikes" : "stints"
}

const keyOf = (found: ReturnType<typeof recognise>): string | null =>
  found?.kind === "one" ? targetKey(found.target) : null

function mappedColumns(
  file: string,
  headers: readonly string[],
  kind: TableKind,
  mappings: readonly Mapping[],
) {
  const columns = new Map<string, Column>()
  const ignored = new Set<number>()
  const mapped = new Set<Mapping>()
  for (const mapping of mappings) {
    const target = mapping.meaning[kind]
    const cells = sourcesIn(mapping, headers)
    if (cells === null || target === undefined) continue
    mapped.add(mapping)
    if (target === null) {
      for (const cell of cells) ignored.add(cell)
      continue
    }
    const header = cells.map((cell) => headerName(headers, cell)).join("+")
    const key = targetKey(target)
    const other = columns.get(key)
    if (other !== undefined) throw sameTarget(file, [other.header, header], key)
    columns.set(key, { header, cells, target })
  }
  return { columns, ignored, mapped }
}

/** Adds the columns whose headers speak for themselves; a mapping beats them. */
function addRecognised(
  file: string,
  headers: readonly string[],
  kind: TableKind,
  columns: Map<string, Column>,
  ignored: ReadonlySet<number>,
): void {
  const spoken = new Set([...columns.values()].flatMap(({ cells }) => (cells.length === 1 ? cells : [])))
  const own = new Map<string, Column>()
  for (const [cell, text] of headers.entries()) {
    const found = ignored.has(cell) || spoken.has(cell) ? null : recognise(text, kind)
    if (found === null) continue
    const header = headerName(headers, cell)
    if (found.kind === "several") throw fitsSeveral(file, header, found.ids)
    const key = targetKey(found.target)
    if (columns.has(key)) continue
    const other = own.get(key)
    if (other !== undefined) throw sameTarget(file, [other.header, header], key)
    own.set(key, { header, cells: [cell], target: found.target })
  }
  for (const [key, column] of own) columns.set(key, column)
}

const fitsSeveral = (file: string, header: string, ids: readonly string[]): ProblemError =>
  new ProblemError(
    "map_unclear",
    `${file}: the column "${header}" may be ${ids.join(" or ")}. Say which ` +
      `(${ids.map((id) => `--map "${header}=${id}"`).join(" or ")}), or leave it out (--map "${header}=ignore").`,
    { file, columns: [header], targets: [...ids] },
  )

export const headerName = (headers: readonly string[], cell: number): string => {
  const name = spaced(headers[cell] ?? "")
  return name === "" ? `column ${cell + 1}` : name
}

/** Refuses a table in which no row could say when, or of which stint; and counts that would be counted twice. */
function requireColumns(layout: Omit<Layout, "readings">): void {
  const { columns, headers, table, kind } = layout
  const has = (key: string): boolean => columns.some(({ target }) => targetKey(target) === key)
  const names = headers.map((_, cell) => `"${headerName(headers, cell)}"`).join(", ")
  const needs = kind === "strikes" ? ["stint", "fate"] : ["date", "start", "end"]
  const missing = kind === "strikes" ? needs.filter((key) => !has(key)) : needs.some(has) ? [] : ["date"]
  const [first] = missing
  if (first !== undefined) {
    throw new ProblemError(
      "table_unreadable",
      `${table.name}: no column is ${missing.join(" or ")}. Its columns are ${names}; say which one is (--map "Their column=${first}").`,
      { file: table.name, columns: headers.map((_, cell) => headerName(headers, cell)) },
    )
  }
  for (const { target, header } of columns) {
    if (target.kind !== "count" || target.species === null) continue
    for (const twice of [target.field, "species"]) {
      const other = columns.find((column) => targetKey(column.target) === twice)
      if (other !== undefined) throw sameTarget(table.name, [header, other.header], target.field)
    }
  }
}

function readingsOf(layout: Omit<Layout, "readings">, ignored: ReadonlySet<number>): ColumnReading[] {
  const file = layout.table.name
  return layout.headers.map((_, cell) => {
    const column = headerName(layout.headers, cell)
    const own = layout.columns.find(({ cells }) => cells.length === 1 && cells[0] === cell)
    const joined = layout.columns.find(({ cells }) => cells.includes(cell) && cells.length > 1)
    if (joined !== undefined && (own === undefined || own.target.kind === "derived")) {
      return { file, column, target: targetKey(joined.target), reading: `part of ${describe(joined.target)}` }
    }
    if (own !== undefined)
      return { file, column, target: targetKey(own.target), reading: describe(own.target) }
    return { file, column, target: null, reading: ignored.has(cell) ? "left out, as said" : "not used" }
  })
}

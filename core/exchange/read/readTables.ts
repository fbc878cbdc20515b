import type { ReadOptions, Refusal, RowDraft, StrikeDraft, TableSource, TablesRead } from "../draft.ts"
import { Assumed } from "./assumed.ts"
import { type Habits, textOfColumn } from "./cells.ts"
import { OrderEvidence } from "./dates.ts"
import { openDelimited } from "./delimited.ts"
import { headersKnown, type Layout, layOut } from "./layout.ts"
import { type Mapping, readMappings, unknownSource } from "./map.ts"
import { rowReader } from "./rows.ts"
import { headOf, unreadable } from "./source.ts"
import { StintNames, strikeReader } from "./strikes.ts"
import { isBlank, mostRecords, type Table, type TableRecord } from "./table.ts"
import type { CountField } from "./targets.ts"
import { isOldWorkbook, isWorkbook, openWorkbook } from "./workbook.ts"
import { requireZone } from "./zone.ts"

/** How reading may be stopped and followed. `progress` is told records done and records there are. */
export type ReadControl = {
  readonly signal?: AbortSignal
  readonly progress?: (done: number, of: number) => void
}

/** A table of which the whole has been seen once. */
type Surveyed = {
  readonly layout: Layout
  readonly habits: Habits
  readonly records: number
  readonly ignored: readonly number[]
  readonly assumptions: readonly string[]
}

const reportEvery = 1000

/**
 * Reads plain tables (CSV, TSV, XLSX) into rows in SI units and strikes, with a refusal for every cell that could not be
 * taken and a sentence for everything that was assumed. Good rows are kept whatever the others hold. Each table is gone
 * through twice, first for what its columns show together, then row by row.
 *
 * Throws ProblemError: "table_unreadable" for a file that is no table, "map_unclear" for a mapping or a header that fits
 * nothing or two things, "unknown_zone" for a zone given for the whole import that does not exist, "cancelled".
 */
export async function readTables(
  sources: readonly TableSource[],
  options: ReadOptions,
  control: ReadControl = {},
): Promise<TablesRead> {
  requireZone(options.zone)
  const mappings = readMappings(options.map)
  const tables = await surveyAll(sources, mappings, options, control.signal)
  const of = tables.reduce((sum, { records }) => sum + records, 0)
  const rows: RowDraft[] = []
  const refusals: Refusal[] = []
  const names = new StintNames()
  const assumed = new Assumed()
  let strikes: StrikeDraft[] | null = null
  let done = 0
  const tick = (): void => {
    if (++done % reportEvery === 0 || done === of) control.progress?.(done, of)
  }
  for (const { layout, habits } of ofKind(tables, "stints")) {
    const readRow = rowReader(layout, habits, options, assumed)
    let ordinal = 0
    for await (const record of dataRecords(layout)) {
      const found = readRow(record, ++ordinal)
      if (isRefused(found)) refusals.push(...found)
      else {
        rows.push(found)
        names.add(found)
      }
      tick()
    }
  }
  for (const { layout, habits } of ofKind(tables, "strikes")) {
    const readStrike = strikeReader(layout, habits, names)
    strikes ??= []
    for await (const record of dataRecords(layout)) {
      const found = readStrike(record)
      if (isRefused(found)) refusals.push(...found)
      else strikes.push(found)
      tick()
    }
  }
  return {
    rows,
    strikes,
    refusals,
    columns: tables.flatMap(({ layout }) => layout.readings),
    records: of,
    ignored_lines: tables.flatMap(({ layout, ignored }) =>
      ignored.map((line) => ({ file: layout.table.name, line })),
    ),
    assumptions: [...tables.flatMap(({ assumptions }) => assumptions), ...assumed.sentences(options)],
    count_columns: {
      strikes: hasCount(tables, "strikes"),
      hook_ups: hasCount(tables, "hook_ups"),
      landed: hasCount(tables, "landed"),
    },
  }
}

const ofKind = (tables: readonly Surveyed[], kind: "stints" | "strikes"): Surveyed[] =>
  tables.filter(({ layout }) => layout.kind === kind)

const isRefused = (found: object): found is readonly Refusal[] => Array.isArray(found)

const hasCount = (tables: readonly Surveyed[], field: CountField): boolean =>
  ofKind(tables, "stints").some(({ layout }) =>
    layout.columns.some(({ target }) => target.kind === "count" && target.field === field),
  )

/** Opens and surveys every table, and refuses a mapping that names no column of any. */
async function surveyAll(
  sources: readonly TableSource[],
  mappings: readonly Mapping[],
  options: ReadOptions,
  signal: AbortSignal | undefined,
): Promise<Surveyed[]> {
  const tables: Surveyed[] = []
  for (const table of await openTables(sources, mappings, signal))
    tables.push(await survey(await layOut(table, mappings), options))
  const lost = mappings.find((mapping) => !tables.some(({ layout }) => layout.mapped.has(mapping)))
  if (lost !== undefined)
    throw unknownSource(
      lost,
      tables.flatMap(({ layout }) => layout.headers),
    )
  return tables
}

/** Opens every table of some files, a workbook's sheets each for itself. Throws ProblemError "table_unreadable". */
export async function openTables(
  sources: readonly TableSource[],
  mappings: readonly Mapping[],
  signal: AbortSignal | undefined,
): Promise<Table[]> {
  const tables: Table[] = []
  for (const source of sources) tables.push(...(await open(source, mappings, signal)))
  return tables
}

async function open(
  source: TableSource,
  mappings: readonly Mapping[],
  signal: AbortSignal | undefined,
): Promise<Table[]> {
  const head = await headOf(source, 8)
  if (isWorkbook(head)) return openWorkbook(source, signal)
  if (isOldWorkbook(head))
    throw unreadable(source.name, "this is a workbook of an old kind; save it as XLSX or CSV.")
  return [await openDelimited(source, headersKnown(mappings), signal)]
}

/** The records below the header that hold anything. */
async function* dataRecords(layout: Layout): AsyncGenerator<TableRecord> {
  for await (const record of layout.table.records()) {
    if (record.line > layout.headerLine && !isBlank(record)) yield record
  }
}

/** Goes through a table once for what only all of its rows can show: the order of its dates and its decimal sign. */
async function survey(layout: Layout, options: ReadOptions): Promise<Surveyed> {
  const { table, headerLine } = layout
  const dates = layout.columns.filter(({ target }) => target.kind === "moment" && target.order === null)
  const numeric = layout.columns.filter(({ target }) => isNumeric(target.kind))
  const evidence = new OrderEvidence()
  const sign = { comma: false, point: false }
  const ignored: number[] = []
  let records = 0
  let seen = 0
  for await (const record of table.records()) {
    if (++seen > mostRecords)
      throw unreadable(table.name, "there are more than 1,048,576 lines; split the file.")
    if (record.line === headerLine) continue
    if (record.line < headerLine || isBlank(record)) {
      ignored.push(record.line)
      continue
    }
    records++
    for (const column of dates) evidence.saw(textOfColumn(column, record.cells))
    if (table.delimiter !== ";") continue
    for (const column of numeric) {
      const text = textOfColumn(column, record.cells)
      if (/\d,\d/.test(text)) sign.comma = true
      if (/\d\.\d/.test(text)) sign.point = true
    }
  }
  if (records === 0 && layout.kind === "stints")
    throw unreadable(table.name, "there is a header and nothing below it.")
  const habits = {
    order: evidence.result(),
    decimalComma: sign.comma && !sign.point,
    thisYear: new Date(options.now).getUTCFullYear(),
  }
  const assumptions = [...table.assumptions, ...habitsSaid(table.name, habits, evidence.shortYears)]
  return { layout, habits, records, ignored, assumptions }
}

const isNumeric = (kind: string): boolean =>
  ["effort", "count", "tally", "place", "measure", "factor"].includes(kind)

function habitsSaid(file: string, { order, decimalComma }: Habits, shortYears: number): string[] {
  const said: string[] = []
  if (order.order === "dmy" || order.order === "mdy") {
    const first = order.order === "dmy" ? "day" : "month"
    said.push(`Dates in ${file} have the ${first} first, as ${order.proof} shows.`)
  }
  if (shortYears > 0)
    said.push(`Years of two digits in ${file} are taken as the latest that are not in the future.`)
  if (decimalComma) said.push(`Commas in the numbers of ${file} are decimal signs.`)
  return said
}

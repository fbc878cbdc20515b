import { type CsvError, parse } from "csv-parse"
import { parse as parseNow } from "csv-parse/sync"
import type { TableSource } from "../draft.ts"
import { chooseEncoding, lineBreaks, longestLine, textOf } from "./encoding.ts"
import type { Table, TableRecord } from "./table.ts"

const delimiters = [",", ";", "\t", "|"] as const
const delimiterWords: Readonly<Record<string, string>> = {
  ",": "commas",
  ";": "semicolons",
  "\t": "tabs",
  "|": "vertical bars",
}
const encodingWords = {
  "utf-8": "UTF-8",
  "utf-16le": "UTF-16, little end first",
  "utf-16be": "UTF-16, big end first",
  "windows-1252": "Windows-1252",
} as const

/**
 * Opens a text table: finds its encoding and its delimiter and says so where they are not UTF-8 and commas.
 * `headersIn` tells how many cells of a record are headers we know, by which the delimiter is chosen. Throws
 * ProblemError "table_unreadable" where the text cannot be a table.
 */
export async function openDelimited(
  source: TableSource,
  headersIn: (cells: readonly string[]) => number,
  signal: AbortSignal | undefined,
): Promise<Table> {
  const { encoding, marked, sample } = await chooseEncoding(source, signal)
  const delimiter = chooseDelimiter(sample, headersIn)
  const assumptions: string[] = []
  if (encoding !== "utf-8" && !marked)
    assumptions.push(`${source.name} is read as ${encodingWords[encoding]}.`)
  if (delimiter !== ",") {
    assumptions.push(`The cells of ${source.name} are parted by ${delimiterWords[delimiter] ?? delimiter}.`)
  }
  return {
    name: source.name,
    named: null,
    delimiter,
    assumptions,
    records: () => recordsOf(textOf(source, encoding, signal), delimiter),
  }
}

/** The delimiter under which some early record holds the most headers we know; of equals, the one with more cells. */
function chooseDelimiter(sample: string, headersIn: (cells: readonly string[]) => number): string {
  let best = { delimiter: ",", known: 0, cells: 0 }
  for (const delimiter of delimiters) {
    for (const cells of firstRecords(sample, delimiter)) {
      const known = headersIn(cells)
      if (known > best.known || (known === best.known && known > 0 && cells.length > best.cells)) {
        best = { delimiter, known, cells: cells.length }
      }
    }
  }
  return best.delimiter
}

/** As many of the sample's first 20 records as can be read; the sample may end inside one. */
function firstRecords(sample: string, delimiter: string): string[][] {
  const records: string[][] = []
  try {
    parseNow(sample, {
      ...dialect(delimiter),
      to: 20,
      on_record: (record: string[]) => {
        records.push(record)
        return null
      },
    })
  } catch {
    return records
  }
  return records
}

const dialect = (delimiter: string) =>
  ({
    delimiter,
    record_delimiter: "\n",
    relax_quotes: true,
    relax_column_count: true,
    max_record_size: longestLine,
  }) as const

/**
 * The records of a text table (RFC 4180, stray quotes allowed), blank ones too, each with the line it starts on. A quote
 * that is never closed gives a last, broken record that stands for the rest of the text.
 */
async function* recordsOf(text: AsyncIterable<string>, delimiter: string): AsyncGenerator<TableRecord> {
  const ready: TableRecord[] = []
  let line = 1
  const parser = parse({
    ...dialect(delimiter),
    raw: true,
    on_record: (record: unknown) => {
      if (!isWithRaw(record)) throw new TypeError("csv-parse gave a record without its raw text")
      const breaks = lineBreaks(record.raw)
      ready.push({
        line,
        cells: record.record,
        broken: breaks > 1 ? brokenQuote(record.raw, line, delimiter) : null,
      })
      line += breaks
      return null
    },
  })
  const failure = new Promise<unknown>((resolve) => parser.once("error", resolve))
  const failed = async (write: (done: (error?: Error | null) => void) => void): Promise<boolean> =>
    new Promise((resolve) => write((error) => resolve(error != null)))

  for await (const piece of text) {
    const stopped = await failed((done) => parser.write(piece, done))
    yield* ready.splice(0)
    if (stopped) {
      yield unclosed(await failure, line)
      return
    }
  }
  const stopped = await failed((done) => parser.end(done))
  yield* ready.splice(0)
  if (stopped) yield unclosed(await failure, line)
}

const isWithRaw = (record: unknown): record is { record: string[]; raw: string } =>
  typeof record === "object" && record !== null && "raw" in record && "record" in record

const isCsvError = (error: unknown): error is CsvError => error instanceof Error && "code" in error

/** The record that stands for all text after an unclosed quote; any other failure is ours and is thrown. */
function unclosed(error: unknown, line: number): TableRecord {
  if (!isCsvError(error) || (error.code !== "CSV_QUOTE_NOT_CLOSED" && error.code !== "CSV_MAX_RECORD_SIZE"))
    throw error
  const within = error.code === "CSV_MAX_RECORD_SIZE" ? " within 1 MiB" : ""
  return {
    line,
    cells: [],
    broken: {
      cell: cellOf(error),
      reason: `the quote opened here is never closed${within}; nothing after it was read`,
    },
  }
}

const cellOf = (error: CsvError): number => (typeof error["index"] === "number" ? error["index"] : 0)

/**
 * A record of several lines is taken only if its quotes are in order: a stray one could have swallowed rows.
 * Returns which cell is wrong, null where all is well.
 */
function brokenQuote(raw: string, line: number, delimiter: string): TableRecord["broken"] {
  try {
    parseNow(raw, { ...dialect(delimiter), relax_quotes: false })
    return null
  } catch (error) {
    if (!isCsvError(error)) throw error
    const last = line + lineBreaks(raw.trimEnd())
    return {
      cell: cellOf(error),
      reason: `a quote is opened here and closed in the middle of a cell on a later line; lines ${line} to ${last} were not read`,
    }
  }
}

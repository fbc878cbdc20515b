import { fates, tookOn } from "../../../shared/vocabulary.ts"
import type { Refusal, RowDraft, StrikeDraft } from "../draft.ts"
import { type Habits, RecordReader } from "./cells.ts"
import { type Day, dayAfter, utcOf } from "./dates.ts"
import { readFixedWord, readYesNo, withinField } from "./factorCell.ts"
import { fold, spaced } from "./fold.ts"
import type { Column, Layout } from "./layout.ts"
import { type Read, read, readQuantity, refused } from "./quantity.ts"
import type { TableRecord } from "./table.ts"
import { targetKey } from "./targets.ts"
import { instantOf } from "./zone.ts"

/** The rows of the stints tables by the names that a strikes table knows them by. */
export class StintNames {
  readonly #rows = new Map<string, RowDraft | "several">()

  /** Rows that differ only in species and counts are one stint and may share a name. */
  add(row: RowDraft): void {
    const known = this.#rows.get(row.stint)
    if (known === undefined) this.#rows.set(row.stint, row)
    else if (known !== "several" && known.stint_hash !== row.stint_hash) this.#rows.set(row.stint, "several")
  }

  find(name: string): Read<RowDraft> {
    const row = this.#rows.get(name)
    if (row === undefined)
      return refused(`no row of the stints table is named ${name}, or that row was refused`)
    return row === "several" ? refused(`more than one stint is named ${name}`) : read(row)
  }
}

/** Makes a reader of a strikes table's records: a strike, or every reason why the record cannot be one. */
export function strikeReader(
  layout: Layout,
  habits: Habits,
  stints: StintNames,
): (record: TableRecord) => StrikeDraft | readonly Refusal[] {
  const columns = new Map(layout.columns.map((column) => [targetKey(column.target), column]))
  return (record) => {
    const reader = new RecordReader(layout, record)
    if (!reader.isWhole()) return reader.refusals
    const take = <T>(key: string, how: (text: string) => Read<T>): T | null => {
      const column = columns.get(key)
      return column === undefined ? null : reader.take(column, how)
    }
    const require = <T>(key: string, how: (text: string) => Read<T>): T | null => {
      const before = reader.refusals.length
      const value = take(key, how)
      if (value === null && reader.refusals.length === before)
        reader.refuse(columns.get(key) ?? null, `${key} is missing`)
      return value
    }
    const stint = require("stint", (text) => stints.find(spaced(text)))
    const fate = require("fate", (text) => readFixedWord(text, fates))
    const species = take("species", (text) => read(spaced(text)))
    const length = measure(reader, columns.get("length_mm"), habits)
    const weight = measure(reader, columns.get("weight_g"), habits)
    const kept = take("kept", readKept)
    const tookOnWord = take("took_on", (text) => readFixedWord(text, tookOn))
    const at = stint === null ? null : instantOfStrike(reader, columns.get("at"), habits, stint)
    if (stint === null || fate === null || reader.refusals.length > 0) return reader.refusals
    return {
      file: layout.table.name,
      line: record.line,
      stint: stint.stint,
      fate,
      species,
      length_mm: length,
      weight_g: weight,
      kept,
      at,
      took_on: tookOnWord,
    }
  }
}

function readKept(text: string): Read<0 | 1> {
  const word = fold(text)
  if (word === "kept" || word === "released") return read(word === "kept" ? 1 : 0)
  const found = readYesNo(text)
  return found.kind === "read" ? read(found.value === "yes" ? 1 : 0) : found
}

function measure(reader: RecordReader, column: Column | undefined, { decimalComma }: Habits): number | null {
  const target = column?.target
  if (column === undefined || target?.kind !== "measure") return null
  const own = target.field === "length_mm" ? "mm" : "g"
  return reader.take(column, (text) => {
    const found = readQuantity(text, own, target.unit, decimalComma)
    return found.kind === "read" ? withinField(target.field, found.value, own) : found
  })
}

/** The instant of a strike; a bare clock time is on its stint's day, or the night after where the stint lasts into it. */
function instantOfStrike(
  reader: RecordReader,
  column: Column | undefined,
  habits: Habits,
  stint: RowDraft,
): number | null {
  const target = column?.target
  if (column === undefined || target?.kind !== "moment") return null
  const moment = reader.moment(column, target, habits)
  if (moment === null) return null
  const { clock, offsetMinutes } = moment
  if (clock === null) {
    reader.refuse(column, "a time of day is wanted here")
    return null
  }
  const day = moment.day ?? dayOfIso(stint.date)
  if (offsetMinutes !== null) return utcOf(day, clock) - offsetMinutes * 60_000
  const found = instantOf(stint.zone, day, clock)
  if (found.kind === "skipped") {
    reader.refuse(column, `the clocks went forward over this time in ${stint.zone}`)
    return null
  }
  const isNight = moment.day === null && stint.start_at !== null && found.at < stint.start_at
  const next = isNight ? instantOf(stint.zone, dayAfter(day, 1), clock) : found
  const withinStint = next.kind !== "skipped" && stint.end_at !== null && next.at <= stint.end_at
  return isNight && withinStint ? next.at : found.at
}

function dayOfIso(date: string): Day {
  const [year, month, day] = date.split("-").map(Number)
  return { year: year ?? 0, month: month ?? 0, day: day ?? 0 }
}

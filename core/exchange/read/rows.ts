import type { FactorId } from "../../../shared/factors.ts"
import { completenesses } from "../../../shared/vocabulary.ts"
import type { ReadOptions, Refusal, RowDraft, SpeciesCounts } from "../draft.ts"
import type { Assumed } from "./assumed.ts"
import { type Habits, RecordReader } from "./cells.ts"
import { contradiction, readCount, readRods } from "./counts.ts"
import { type Day, isTotals, type Moment } from "./dates.ts"
import { readFactor, readFixedWord, withinField } from "./factorCell.ts"
import { spaced } from "./fold.ts"
import { rowHasher } from "./hashes.ts"
import type { Column, Layout } from "./layout.ts"
import { read, readMinutes, readPlainNumber, refused } from "./quantity.ts"
import type { TableRecord } from "./table.ts"
import type { CountField, Target, WordField } from "./targets.ts"
import { placeInTime } from "./when.ts"
import { knownZone, zoneFor } from "./zone.ts"

const longestMinutes = 1440

/** What the cells of a record hold, each read but not yet held against the others. */
type Gathered = {
  words: Map<WordField, string>
  moments: Map<string, { column: Column; moment: Moment }>
  efforts: { column: Column; field: "hours" | "minutes" | "rod_hours"; minutes: number }[]
  counts: { column: Column; field: CountField; species: string | null; value: number | null }[]
  numbers: Map<string, number>
  factors: Map<FactorId, number | string>
}

/**
 * Makes a reader of a stints table's records. `ordinal` is the record's number among the data rows, from 1. The reader
 * gives a row, or every reason why the record cannot be one.
 */
export function rowReader(
  layout: Layout,
  habits: Habits,
  options: ReadOptions,
  assumed: Assumed,
): (record: TableRecord, ordinal: number) => RowDraft | readonly Refusal[] {
  const hash = rowHasher(layout)
  const columnOf = new Map(layout.columns.map((column) => [fieldOf(column.target), column]))
  return (record, ordinal) => {
    const reader = new RecordReader(layout, record)
    if (!reader.isWhole() || isTotalsRow(reader, columnOf.get("date"))) return reader.refusals
    const cells = gather(reader, layout.columns, habits)
    const rods = cells.numbers.get("rods") ?? 1
    const minutes = effortMinutes(reader, cells, rods)
    const counts = countsOf(reader, cells)
    checkPlace(reader, cells, columnOf)
    if (reader.refusals.length > 0) return reader.refusals

    const spot = cells.words.get("spot") ?? null
    const zone = zoneFor(cells.words.get("zone") ?? null, spot, options)
    const when = placeInTime(
      {
        date: dayOf(cells.moments.get("date")?.moment),
        start: cells.moments.get("start")?.moment ?? null,
        end: cells.moments.get("end")?.moment ?? null,
        minutes,
      },
      zone,
      options.now,
      assumed,
    )
    if (when.kind === "refused") {
      const column = when.field === "minutes" ? cells.efforts[0]?.column : columnOf.get(when.field)
      reader.refuse(column ?? columnOf.get("start") ?? columnOf.get("end") ?? null, when.reason)
      return reader.refusals
    }
    assumed.zone(zone)
    if (!cells.numbers.has("rods")) assumed.oneRod++
    return {
      file: layout.table.name,
      line: record.line,
      ...hash(record.cells),
      trip: cells.words.get("trip") ?? null,
      stop: cells.words.get("stop") ?? null,
      stint: cells.words.get("stint") ?? String(ordinal),
      ...when.value,
      zone: zone.zone,
      rods,
      completeness: completenesses.find((known) => known === cells.words.get("completeness")) ?? "complete",
      angler: cells.words.get("angler") ?? null,
      spot,
      lat: cells.numbers.get("lat") ?? null,
      lon: cells.numbers.get("lon") ?? null,
      station: cells.words.get("station") ?? null,
      target: cells.words.get("target") ?? null,
      counts,
      follows: cells.numbers.get("follows") ?? null,
      hang_ups: cells.numbers.get("hang_ups") ?? null,
      lures_lost: cells.numbers.get("lures_lost") ?? null,
      notes: cells.words.get("notes") ?? null,
      factors: cells.factors,
    }
  }
}

const fieldOf = (target: Target): string => ("field" in target ? target.field : target.id)
const dayOf = (moment: Moment | undefined): Day | null => moment?.day ?? null

/** A row of sums is no trip, whatever its other cells say. */
function isTotalsRow(reader: RecordReader, date: Column | undefined): boolean {
  if (date === undefined) return false
  reader.take(date, (text) =>
    isTotals(text) ? refused(`"${text.trim()}" is not a date (a totals row is not a trip)`) : read(text),
  )
  return reader.refusals.length > 0
}

function gather(reader: RecordReader, columns: readonly Column[], habits: Habits): Gathered {
  const cells: Gathered = {
    words: new Map(),
    moments: new Map(),
    efforts: [],
    counts: [],
    numbers: new Map(),
    factors: new Map(),
  }
  const { decimalComma } = habits
  for (const column of columns) {
    const { target } = column
    switch (target.kind) {
      case "word": {
        const text = reader.take(column, (cell) => readWord(target.field, cell))
        if (text !== null) cells.words.set(target.field, text)
        break
      }
      case "moment": {
        const moment = reader.moment(column, target, habits)
        if (moment === null) break
        if (target.field === "date" && !isPlainDay(moment)) {
          reader.refuse(column, "a date is wanted here; a column of times is mapped as start or end")
        } else cells.moments.set(target.field, { column, moment })
        break
      }
      case "effort": {
        const { field } = target
        const minutes = reader.take(column, (cell) =>
          readMinutes(cell, field === "minutes" ? "min" : "h", decimalComma),
        )
        if (minutes !== null) cells.efforts.push({ column, field, minutes })
        break
      }
      case "count": {
        const value = reader.take(column, (cell) => readCount(cell, decimalComma))
        cells.counts.push({ column, field: target.field, species: target.species, value })
        break
      }
      case "tally": {
        const readTally = target.field === "rods" ? readRods : readCount
        const value = reader.take(column, (cell) => readTally(cell, decimalComma))
        if (value !== null) cells.numbers.set(target.field, value)
        break
      }
      case "place": {
        const value = reader.take(column, (cell) => {
          const number = readPlainNumber(cell, decimalComma)
          return number.kind === "read" ? withinField(target.field, number.value, null) : number
        })
        if (value !== null) cells.numbers.set(target.field, value)
        break
      }
      case "factor": {
        const value = reader.take(column, (cell) => readFactor(target.id, target.unit, cell, decimalComma))
        if (value !== null) cells.factors.set(target.id, value)
        break
      }
      case "measure":
      case "derived":
        break
    }
  }
  return cells
}

/** A date column may carry the midnight that spreadsheets add to dates, and no other time. */
const isPlainDay = ({ day, clock }: Moment): boolean =>
  day !== null && (clock === null || (clock.hour === 0 && clock.minute === 0 && clock.second === 0))

function readWord(field: WordField, text: string) {
  switch (field) {
    case "notes":
      return read(text)
    case "zone": {
      const zone = knownZone(text)
      return zone === null
        ? refused(`there is no time zone "${spaced(text)}"; write its IANA name, such as America/New_York`)
        : read(zone)
    }
    case "completeness":
      return readFixedWord(text, completenesses)
    case "trip":
    case "stop":
    case "stint":
    case "angler":
    case "spot":
    case "station":
    case "target":
    case "species":
    case "fate":
    case "took_on":
    case "kept":
      return read(spaced(text))
  }
}

/** The row's clock time in minutes: that of its effort columns, which must agree; null where none is filled in. */
function effortMinutes(reader: RecordReader, cells: Gathered, rods: number): number | null {
  let agreed: { header: string; minutes: number } | null = null
  for (const { column, field, minutes: said } of cells.efforts) {
    const minutes = field === "rod_hours" ? said / rods : said
    if (minutes <= 0) reader.refuse(column, "effort must be more than 0")
    else if (minutes > longestMinutes) reader.refuse(column, "more than 24 hours in one stint")
    else if (agreed !== null && Math.abs(agreed.minutes - minutes) > 1) {
      reader.refuse(column, `another effort than in ${agreed.header}`)
    } else agreed ??= { header: column.header, minutes }
  }
  return agreed?.minutes ?? null
}

/** The row's counts; where columns are split by species an entry each, and one without species for what is not split. */
function countsOf(reader: RecordReader, { counts, words }: Gathered): SpeciesCounts[] {
  const splits = new Set(counts.flatMap(({ species }) => (species === null ? [] : [species.toLowerCase()])))
  const valueOf = (field: CountField, species: string | null): number | null =>
    counts.find((one) => one.field === field && (one.species?.toLowerCase() ?? null) === species)?.value ??
    null
  const ladder = (species: string | null) => ({
    strikes: valueOf("strikes", species),
    hook_ups: valueOf("hook_ups", species),
    landed: valueOf("landed", species),
  })
  const named = (species: string): string =>
    counts.find((one) => one.species?.toLowerCase() === species)?.species ?? species
  const whole = { species: words.get("species") ?? null, ...ladder(null) }
  const entries = [...splits].map((species) => ({ species: named(species), ...ladder(species) }))
  const hasWhole = counts.some(({ species }) => species === null)
  const told = splits.size === 0 ? [whole] : hasWhole ? [whole, ...entries] : entries
  for (const entry of told) {
    const wrong = contradiction(entry)
    if (wrong === null) continue
    const split = splits.size === 0 || entry === whole ? null : entry.species
    const column = counts.find(({ field, species }) => field === wrong.field && species === split)?.column
    reader.refuse(column ?? null, wrong.reason)
  }
  if (splits.size > 0 && hasWhole) checkSums(reader, counts, whole, entries)
  return told
}

/** The species of a row together cannot have more of a count than the row as a whole. */
function checkSums(
  reader: RecordReader,
  counts: Gathered["counts"],
  whole: SpeciesCounts,
  entries: readonly SpeciesCounts[],
): void {
  const landed = entries.reduce((sum, entry) => sum + (entry.landed ?? 0), 0)
  const wrong = contradiction({ ...whole, landed })
  const column = counts.find(({ field, species }) => field === "landed" && species !== null)?.column
  if (wrong !== null) reader.refuse(column ?? null, `all species together: ${wrong.reason}`)
}

function checkPlace(
  reader: RecordReader,
  { numbers }: Gathered,
  columnOf: ReadonlyMap<string, Column>,
): void {
  const hasLat = numbers.has("lat")
  if (hasLat === numbers.has("lon") || reader.refusals.length > 0) return
  reader.refuse(
    columnOf.get(hasLat ? "lat" : "lon") ?? null,
    hasLat ? "a latitude without a longitude" : "a longitude without a latitude",
  )
}

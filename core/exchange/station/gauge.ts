import { Temporal } from "temporal-polyfill"
import { units } from "../../../shared/units.ts"
import type { Refusal, TableSource } from "../draft.ts"
import { readMoment, utcOf, type Clock, type Day } from "../read/dates.ts"
import { openDelimited } from "../read/delimited.ts"
import { read, refused, type Read } from "../read/quantity.ts"
import { unreadable } from "../read/source.ts"
import { isBlank } from "../read/table.ts"
import { instantOf } from "../read/zone.ts"
import { gaugeHeader, type GaugeHeader } from "./gaugeHeader.ts"
import { readRow, refusal, type Notes, type StationRow } from "./rows.ts"

/** What the user says of a file that does not say it itself; null where the user did not say either. */
export type GaugeOptions = {
  readonly zone: string | null
  readonly units: "us" | "metric" | null
  readonly now: number
}

/**
 * Reads the CSV of a water-level station, as its data service or its web page gives it out. What the file leaves open is
 * taken as said, else as metric and GMT, and that is told. Throws ProblemError "table_unreadable" where nothing in it is
 * kept, or where its times are local and nobody said where.
 */
export async function* readGauge(
  source: TableSource,
  options: GaugeOptions,
  signal: AbortSignal | undefined,
  notes: Notes,
): AsyncGenerator<StationRow | Refusal> {
  const given = options.units ?? "metric"
  const table = await openDelimited(
    source,
    (cells) => (gaugeHeader(cells, given) === null ? 0 : cells.length),
    signal,
  )
  let header: GaugeHeader | null = null
  let instant: ((day: Day, clock: Clock) => Read<number>) | null = null
  for await (const record of table.records()) {
    if (isBlank(record)) continue
    if (header === null || instant === null) {
      header = gaugeHeader(record.cells, given)
      if (header === null)
        throw unreadable(source.name, "its first line is not the header of a station's file.")
      if (header.columns.every(({ target }) => target === "conductivity"))
        throw unreadable(
          source.name,
          "nothing measured in it is kept: that would be water temperature, salinity (or conductivity beside water temperature), water level, wind or air pressure.",
        )
      instant = clockFor(header, source.name, options.zone)
      takeNotes(header, options, notes)
      for (const { header: column, unit } of header.unknown)
        yield refusal(
          source.name,
          record.line,
          "not a unit known for it; the column is left out",
          column,
          unit,
        )
      continue
    }
    yield record.broken === null
      ? rowOf(record.line, record.cells, header, instant, options.now, notes)
      : refusal(source.name, record.line, record.broken.reason)
  }
}

function rowOf(
  line: number,
  cells: readonly string[],
  header: GaugeHeader,
  instant: (day: Day, clock: Clock) => Read<number>,
  now: number,
  notes: Notes,
): StationRow | Refusal {
  const { file } = notes
  if (cells.length !== header.names.length)
    return refusal(file, line, `${cells.length} values where the header names ${header.names.length}`)
  const text = header.when.map((cell) => (cells[cell] ?? "").trim()).join(" ")
  const column = header.when.map((cell) => header.names[cell]).join(" ")
  const found = readMoment(text, { order: null, proof: null }, new Date(now).getUTCFullYear())
  if (found.kind === "refused") return refusal(file, line, found.reason, column, text)
  const { day, clock } = found.value
  if (day === null || clock === null) return refusal(file, line, "not a date and time", column, text)
  const at = instant(day, clock)
  if (at.kind === "refused") return refusal(file, line, at.reason, column, text)
  return readRow(line, at.value, cells, header.columns, notes)
}

function takeNotes(header: GaugeHeader, options: GaugeOptions, notes: Notes): void {
  for (const [i, name] of header.names.entries()) {
    if (header.when.includes(i)) continue
    const column = header.columns.find(({ cell }) => cell === i)
    const unit = column === undefined ? null : units[column.unit].symbol
    notes.columns.set(name, { target: column?.target ?? null, unit, missing: 0 })
  }
  const said = notes.assumptions
  const { file } = notes
  if (header.unitsAssumed)
    said.push(
      options.units === null
        ? `${file} does not say its units: taken as metric. US units can be said instead (--station-units us).`
        : `${file} does not say its units: taken as ${options.units === "us" ? "US units" : "metric"}, as said.`,
    )
  if (header.clocks === null)
    said.push(
      options.zone === null
        ? `${file} does not say its time zone: taken as GMT. Another can be said (--zone).`
        : `${file} does not say its time zone: taken as the local time of ${options.zone}, as said.`,
    )
}

/** How the file's clock times become instants. Times that come twice are taken in the order of the rows. */
function clockFor(
  { clocks }: GaugeHeader,
  file: string,
  zone: string | null,
): (day: Day, clock: Clock) => Read<number> {
  if (clocks === "utc" || (clocks === null && zone === null)) return (day, clock) => read(utcOf(day, clock))
  if (zone === null)
    throw unreadable(file, "its times are those of the station's own zone; say which (--zone).")
  if (clocks === "standard") return (day, clock) => read(utcOf(day, clock) - standardOffset(zone, day.year))
  let last = -Infinity
  return (day, clock) => {
    const found = instantOf(zone, day, clock)
    if (found.kind === "skipped")
      return refused(`no such time in ${zone}, where the clocks went forward over it`)
    const again = found.kind === "twice" && found.at <= last
    const at = again ? secondOf(zone, day, clock) : found.at
    last = at
    return read(at)
  }
}

const secondOf = (zone: string, day: Day, clock: Clock): number =>
  Temporal.PlainDateTime.from({ ...day, ...clock }).toZonedDateTime(zone, { disambiguation: "later" })
    .epochMilliseconds

/** A zone's offset from UTC in ms without summer time: the smaller of those in January and July. */
function standardOffset(zone: string, year: number): number {
  const offsets = [0, 6].map(
    (month) =>
      Temporal.Instant.fromEpochMilliseconds(Date.UTC(year, month, 1)).toZonedDateTimeISO(zone)
        .offsetNanoseconds,
  )
  return Math.min(...offsets) / 1e6
}

import { counted } from "../../../shared/figures.ts"
import type { Refusal, TableSource } from "../draft.ts"
import { headOf, unreadable } from "../read/source.ts"
import { mostRecords } from "../read/table.ts"
import { requireZone } from "../read/zone.ts"
import { buoyFormat, isBuoyHeader, readBuoy } from "./buoy.ts"
import { readGauge, type GaugeOptions } from "./gauge.ts"
import { gaugeHeader } from "./gaugeHeader.ts"
import { measured } from "./kept.ts"
import { isRefusal, refusal, type Notes } from "./rows.ts"
import { Thinned, type TripRow } from "./thin.ts"

/** One station's file, read: what it holds in figures, and the rows near a trip, thinned. Instants in UTC ms. */
export type StationFile = {
  readonly file: string
  readonly format: string
  readonly records: number
  readonly rows: number
  readonly first_at: number | null
  readonly last_at: number | null
  readonly in_reach: number
  readonly kept: readonly TripRow[]
  readonly columns: Notes["columns"]
  readonly assumptions: readonly string[]
  readonly refusals: readonly Refusal[]
}

const dayMs = 86_400_000

/** Whether this is a station's file, by what it holds. */
export const isStationFile = async (source: TableSource): Promise<boolean> =>
  (await formatOf(source)) !== null

/** The format of a station's file, in words, from the first line that holds anything; null for another file. */
async function formatOf(source: TableSource): Promise<string | null> {
  const head = new TextDecoder("latin1").decode(await headOf(source, 4096)).replace(/^ï»¿/, "")
  const line = head.split(/\r\n?|\n/).find((text) => text.trim() !== "") ?? ""
  if (isBuoyHeader(line)) return buoyFormat
  const cells = line.split(",").map((cell) => cell.trim().replace(/^"(.*)"$/, "$1"))
  return gaugeHeader(cells, "metric")?.format ?? null
}

/**
 * Reads station files and keeps the rows that `reach` finds trips for. Rows that cannot be taken are refused with line
 * and reason, the others kept. Throws ProblemError "table_unreadable", "unknown_zone" and "cancelled" as `readTables`.
 */
export async function readStations(
  sources: readonly TableSource[],
  options: GaugeOptions,
  reach: (at: number) => readonly string[],
  signal?: AbortSignal,
): Promise<StationFile[]> {
  requireZone(options.zone)
  const files: StationFile[] = []
  for (const source of sources) files.push(await readStation(source, options, reach, signal))
  return files
}

async function readStation(
  source: TableSource,
  options: GaugeOptions,
  reach: (at: number) => readonly string[],
  signal: AbortSignal | undefined,
): Promise<StationFile> {
  const file = source.name
  const format = (await formatOf(source)) ?? buoyFormat
  const notes: Notes = { file, columns: new Map(), assumptions: [], salinities: { workedOut: 0, unknown: 0 } }
  const found =
    format === buoyFormat ? readBuoy(source, signal, notes) : readGauge(source, options, signal, notes)
  const refusals: Refusal[] = []
  const thinned = new Thinned()
  const range = { first: Infinity, last: -Infinity }
  let records = 0
  let rows = 0
  let in_reach = 0
  for await (const row of found) {
    if (++records > mostRecords)
      throw unreadable(file, "there are more than 1,048,576 lines; split the file.")
    if (isRefusal(row)) refusals.push(row)
    else if (row.at > options.now + dayMs)
      refusals.push(refusal(file, row.line, "its time lies in the future"))
    else {
      rows++
      range.first = Math.min(range.first, row.at)
      range.last = Math.max(range.last, row.at)
      if (measured(row.values).length === 0) continue
      for (const trip of reach(row.at)) {
        in_reach++
        thinned.add(trip, row)
      }
    }
  }
  notes.assumptions.push(...salinitiesSaid(notes))
  if (records === 0) throw unreadable(file, "there is a header and nothing below it.")
  return {
    file,
    format,
    records,
    rows,
    first_at: rows === 0 ? null : range.first,
    last_at: rows === 0 ? null : range.last,
    in_reach,
    kept: thinned.rows(),
    columns: notes.columns,
    assumptions: notes.assumptions,
    refusals,
  }
}

/** What became of conductivities beside which no salinity was told. */
const salinitiesSaid = ({ file, salinities: { workedOut, unknown } }: Notes): string[] => [
  ...(workedOut === 0
    ? []
    : [
        `${file}: the salinity of ${counted(workedOut, "row")} is worked out from conductivity and water temperature (PSS-78).`,
      ]),
  ...(unknown === 0
    ? []
    : [
        `${file}: ${counted(unknown, "row")} with conductivity but no salinity: without water temperature, or off the scale of 2 to 42, none is worked out.`,
      ]),
]

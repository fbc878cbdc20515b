import { unitFor, units, type UnitId } from "../../../shared/units.ts"
import type { Refusal, TableSource } from "../draft.ts"
import { chooseEncoding, textOf } from "../read/encoding.ts"
import { unreadable } from "../read/source.ts"
import type { ReadColumn, StationColumn } from "./kept.ts"
import { readRow, refusal, type Notes, type StationRow } from "./rows.ts"

export const buoyFormat = "meteorological or oceanographic data of a buoy or coast station"

const header = /^#?\s*YY(?:YY)?\s+MM\s+DD\s+hh\s/

/** Whether a line is the header of meteorological or oceanographic data. */
export const isBuoyHeader = (line: string): boolean => header.test(line)

/**
 * The columns that are read, with the unit that the format gives them and the number that stands for "not measured" in
 * historical files. Source: National Data Buoy Center, "Measurement Descriptions and Units"
 * (https://www.ndbc.noaa.gov/measdes.shtml): "a variable number of 9's"; how many in which column is from the files.
 */
const formatColumns: Readonly<Record<string, { target: ReadColumn; unit: UnitId; nines: number }>> = {
  WDIR: { target: "wind_dir_deg", unit: "deg", nines: 999 },
  WD: { target: "wind_dir_deg", unit: "deg", nines: 999 },
  WSPD: { target: "wind_speed_ms", unit: "ms", nines: 99 },
  PRES: { target: "barometer_hpa", unit: "hpa", nines: 9999 },
  BAR: { target: "barometer_hpa", unit: "hpa", nines: 9999 },
  BARO: { target: "barometer_hpa", unit: "hpa", nines: 9999 },
  WTMP: { target: "water_temp_c", unit: "c", nines: 999 },
  PTDY: { target: "barometer_3h_hpa", unit: "hpa", nines: 99 },
  TIDE: { target: "water_level_m", unit: "ft", nines: 99 },
  OTMP: { target: "water_temp_c", unit: "c", nines: 999 },
  SAL: { target: "salinity_psu", unit: "psu", nines: 99 },
  COND: { target: "conductivity", unit: "ms_cm", nines: 99 },
}

/** Oceanographic rows name the depth they were measured at. Deeper ones are of another water than is fished. Ours, no source. */
const depthColumn = "DEPTH"
const deepest_m = 3

type Layout = {
  readonly names: readonly string[]
  readonly minutes: boolean
  /** The cell of the depth at which a row was measured; null where the file names none. */
  readonly depth: number | null
  readonly columns: readonly StationColumn[]
}

/**
 * Reads standard meteorological and oceanographic data: a header that begins `#YY MM DD hh mm`, in newer files a line of
 * units, and rows parted by blanks, times in UTC. Files before 2007 have no `#` and no units, those before 2005 no minutes, those before
 * 1999 years of two digits; `MM` or nines mean that nothing was measured. Source: the page named above and "Changes to
 * web data file formats" (https://www.ndbc.noaa.gov/faq/mods.shtml). A file may hold several such files in a row.
 */
export async function* readBuoy(
  source: TableSource,
  signal: AbortSignal | undefined,
  notes: Notes,
): AsyncGenerator<StationRow | Refusal> {
  const { encoding } = await chooseEncoding(source, signal)
  let layout: Layout | null = null
  let unitsAt: number | null = null
  let without = false
  let deep = 0
  let line = 0
  for await (const text of linesOf(textOf(source, encoding, signal))) {
    line++
    if (text.trim() === "") continue
    if (isBuoyHeader(text)) {
      layout = layOut(text, source.name, notes)
      unitsAt = line + 1
    } else if (layout === null) {
      yield refusal(source.name, line, "a line above the header")
    } else if (text.trimStart().startsWith("#")) {
      if (line !== unitsAt) continue
      const read = withUnits(layout, wordsOf(text), source.name, line, notes)
      layout = read.layout
      yield* read.refusals
    } else {
      without ||= line === unitsAt
      if (isDeep(text, layout)) deep++
      else yield rowOf(text, line, layout, notes)
    }
  }
  if (deep > 0)
    notes.assumptions.push(
      `${source.name}: ${deep === 1 ? "1 row" : `${deep} rows`} measured deeper than ${deepest_m} m left out: that is seldom the water fished.`,
    )
  if (without)
    notes.assumptions.push(
      `${source.name} has no line of units: taken as the format has them (°C, m/s, hPa, heights in feet).`,
    )
}

const wordsOf = (line: string): string[] => line.replace(/^\s*#/, "").trim().split(/\s+/)

async function* linesOf(pieces: AsyncIterable<string>): AsyncGenerator<string> {
  let rest = ""
  for await (const piece of pieces) {
    const lines = (rest + piece).split("\n")
    rest = lines.pop() ?? ""
    yield* lines
  }
  if (rest !== "") yield rest
}

/** Throws ProblemError "table_unreadable" where the header names nothing that is kept. */
function layOut(line: string, file: string, notes: Notes): Layout {
  const names = wordsOf(line)
  const columns = names.flatMap((name, cell): StationColumn[] => {
    const known = formatColumns[name]
    if (known === undefined) return []
    const { target, unit, nines } = known
    const missing = (text: string): boolean => text === "MM" || Number(text) === nines
    return [{ cell, header: name, target, unit, missing, hint: "" }]
  })
  if (columns.length === 0)
    throw unreadable(
      file,
      "none of its columns is wind, air pressure, water temperature, salinity or water level.",
    )
  const minutes = names[4] === "mm"
  for (const name of names.slice(minutes ? 5 : 4)) note(name, columns, notes)
  const depth = names.indexOf(depthColumn)
  return { names, minutes, depth: depth < 0 ? null : depth, columns }
}

/** Whether a row was measured below the water that is fished. */
const isDeep = (text: string, { depth }: Layout): boolean =>
  depth !== null && Number(wordsOf(text)[depth]) > deepest_m

function note(name: string, columns: readonly StationColumn[], notes: Notes): void {
  const column = columns.find(({ header: of }) => of === name)
  const missing = notes.columns.get(name)?.missing ?? 0
  const unit = column === undefined ? null : units[column.unit].symbol
  notes.columns.set(name, { target: column?.target ?? null, unit, missing })
}

/** The layout in the units its file names. A column in a unit nobody knows is left out and refused. */
function withUnits(
  layout: Layout,
  words: readonly string[],
  file: string,
  line: number,
  notes: Notes,
): { layout: Layout; refusals: Refusal[] } {
  const refusals: Refusal[] = []
  const columns = layout.columns.flatMap((column) => {
    const word = words[column.cell] ?? ""
    const unit = unitFor(word === "degT" ? "deg" : word, units[column.unit].dimension)
    if (unit !== null) return [{ ...column, unit }]
    refusals.push(refusal(file, line, "not a unit known for it; the column is left out", column.header, word))
    return []
  })
  for (const { header: name } of layout.columns) note(name, columns, notes)
  return { layout: { ...layout, columns }, refusals }
}

function rowOf(text: string, line: number, layout: Layout, notes: Notes): StationRow | Refusal {
  const cells = wordsOf(text)
  if (cells.length !== layout.names.length)
    return refusal(notes.file, line, `${cells.length} values where the header names ${layout.names.length}`)
  const time = cells.slice(0, layout.minutes ? 5 : 4)
  const at = instantOf(time)
  return at === null
    ? refusal(
        notes.file,
        line,
        "not a date and time",
        layout.names.slice(0, time.length).join(" "),
        time.join(" "),
      )
    : readRow(line, at, cells, layout.columns, notes)
}

/** The files begin in 1970 (from memory), so that years of two digits are of the 1900s. */
const firstYear = 1970

/** The instant of year, month, day, hour and minute in UTC; null where there is none. */
function instantOf(time: readonly string[]): number | null {
  if (!time.every((part) => /^\d{1,4}$/.test(part))) return null
  const [yearText = "", ...rest] = time
  if (yearText.length !== 4 && yearText.length !== 2) return null
  const [month = 0, day = 0, hour = 0, minute = 0] = rest.map(Number)
  const year = Number(yearText) + (yearText.length === 2 ? 1900 : 0)
  const at = Date.UTC(year, month - 1, day, hour, minute)
  const made = new Date(at)
  const real = made.getUTCMonth() === month - 1 && made.getUTCDate() === day && made.getUTCHours() === hour
  return real && minute < 60 && year >= firstYear ? at : null
}

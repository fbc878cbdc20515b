import { unitFor, units, type UnitId } from "../../../shared/units.ts"
import { measurable, type ReadColumn, type StationColumn } from "./kept.ts"

/** How the times of a file are written: in UTC, by the station's clocks, by its standard time all year, or not said. */
export type Clocks = "utc" | "local" | "standard" | null
export type GaugeHeader = {
  readonly format: string
  readonly names: readonly string[]
  /** The cells that make up a row's time, joined by a blank. */
  readonly when: readonly number[]
  readonly clocks: Clocks
  readonly columns: readonly StationColumn[]
  /** Columns in a unit nobody knows. */
  readonly unknown: readonly { readonly header: string; readonly unit: string }[]
  /** Whether the file says nothing of its units, so that they had to be assumed. */
  readonly unitsAssumed: boolean
}

type Measure = { readonly target: ReadColumn | null; readonly metric?: UnitId; readonly us?: UnitId }
const level: Measure = { target: "water_level_m", metric: "m", us: "ft" }
const temperature: Measure = { target: "water_temp_c", metric: "c", us: "f" }
const windSpeed: Measure = { target: "wind_speed_ms", metric: "ms", us: "kn" }
const windDirection: Measure = { target: "wind_dir_deg", metric: "deg", us: "deg" }
const pressure: Measure = { target: "barometer_hpa", metric: "mbar", us: "mbar" }
const salinity: Measure = { target: "salinity_psu", metric: "psu", us: "psu" }
const conductivity: Measure = { target: "conductivity", metric: "ms_cm", us: "ms_cm" }
const aside: Measure = { target: null }

/**
 * Columns of the CSV that the data API of NOAA's Center for Operational Oceanographic Products and Services gives out, in
 * lower case. Sources: the header lines of water level and water temperature as public programs quote them (for example
 * "Date Time, Water Level, Sigma, O or I (for verified), F, R, L, Quality"); the flags in "The Data API Response Help"
 * (https://api.tidesandcurrents.noaa.gov/api/prod/responseHelp.html). Wind, pressure, salinity and conductivity columns are from memory; so
 * is that US units are °F, feet and knots, and that pressure is in millibars and conductivity in mS/cm either way.
 */
const apiColumns: Readonly<Record<string, Measure>> = {
  "water level": level,
  "water temperature": temperature,
  speed: windSpeed,
  "wind speed": windSpeed,
  dir: windDirection,
  direction: windDirection,
  "wind direction": windDirection,
  pressure,
  "air pressure": pressure,
  "barometric pressure": pressure,
  salinity,
  conductivity,
  ...Object.fromEntries(
    [
      "gust,wind gust,air temperature,air gap,humidity,relative humidity,visibility,specific gravity",
      "prediction,type,range,sigma,o or i (for verified),quality,o,i,f,r,l,t,x,n",
    ]
      .join(",")
      .split(",")
      .map((name) => [name, aside]),
  ),
}

/**
 * Columns of the CSV of the same stations' web page, `Date, Time (GMT), Predicted (ft), Preliminary (ft), Verified (ft)`,
 * without their unit, in lower case; a dash means that nothing was measured. Source: those five as public programs quote
 * them; the columns of its weather page are from memory. A verified level, coming later, wins over a preliminary one.
 */
const pageColumns: Readonly<Record<string, Measure>> = {
  predicted: aside,
  preliminary: level,
  verified: level,
  "water temp": temperature,
  "wind speed": windSpeed,
  "wind dir": windDirection,
  "wind gust": aside,
  "air temp": aside,
  baro: pressure,
  humidity: aside,
  visibility: aside,
}

const hints = {
  metric: "; if the file is in US units, say so (--station-units us)",
  us: "; if the file is metric, do not say US units (--station-units us)",
} as const

const nothing = (text: string): boolean => text === "" || text === "-"

/** What the first record of a station's CSV says, in the units given where it names none; null for another table. */
export function gaugeHeader(cells: readonly string[], given: "us" | "metric"): GaugeHeader | null {
  const names = cells.map((cell) => cell.trim())
  return names[0]?.toLowerCase() === "date time" ? apiHeader(names, given) : pageHeader(names)
}

function apiHeader(names: readonly string[], given: "us" | "metric"): GaugeHeader | null {
  const measures = names.slice(1).map((name) => apiColumns[name.toLowerCase()])
  if (measures.length === 0 || measures.includes(undefined)) return null
  const taken = new Set<ReadColumn>()
  const columns = measures.flatMap((measure, i): StationColumn[] => {
    const target = measure?.target ?? null
    const unit = measure?.[given]
    // wind comes with two columns of direction, degrees first and then the compass point
    if (target === null || unit === undefined || taken.has(target)) return []
    taken.add(target)
    const hint = measure?.metric === measure?.us ? "" : hints[given]
    return [{ cell: i + 1, header: names[i + 1] ?? "", target, unit, missing: nothing, hint }]
  })
  return {
    format: "CSV of a water-level station's data service",
    names,
    when: [0],
    clocks: null,
    columns,
    unknown: [],
    unitsAssumed: columns.some(({ hint }) => hint !== ""),
  }
}

function pageHeader(names: readonly string[]): GaugeHeader | null {
  const clocks = clocksOf(names[1] ?? "")
  if (names[0]?.toLowerCase() !== "date" || clocks === undefined || names.length < 3) return null
  const columns: StationColumn[] = []
  const unknown: { header: string; unit: string }[] = []
  for (const [i, header] of names.entries()) {
    if (i < 2) continue
    const [, name = "", word = ""] = /^(.+?)\s*\(([^()]+)\)$/.exec(header) ?? []
    const measure = pageColumns[name.toLowerCase()]
    if (measure === undefined) return null
    if (measure.target === null) continue
    const unit = unitFor(word, units[measurable[measure.target].unit].dimension)
    if (unit === null) unknown.push({ header, unit: word })
    else columns.push({ cell: i, header, target: measure.target, unit, missing: nothing, hint: "" })
  }
  return {
    format: "CSV of a water-level station's web page",
    names,
    when: [0, 1],
    clocks,
    columns,
    unknown,
    unitsAssumed: false,
  }
}

const zonesNamed: Readonly<Record<string, Clocks>> = {
  gmt: "utc",
  utc: "utc",
  "lst/ldt": "local",
  lst: "standard",
}

/** What `Time (GMT)` and its like say; undefined where it says nothing known. */
function clocksOf(header: string): Clocks | undefined {
  const [, zone] = /^time\s*\(([^()]+)\)$/i.exec(header) ?? []
  return zone === undefined ? undefined : zonesNamed[zone.toLowerCase()]
}

import { entities } from "../../../shared/entities.ts"
import { convert, units, type UnitId } from "../../../shared/units.ts"
import { read, refused, type Read } from "../read/quantity.ts"

/** What the logbook keeps of a station's readings: columns of `observation`, their units, and what they are in words. */
export const kept = {
  water_temp_c: { unit: "c", words: "water temperature" },
  wind_speed_ms: { unit: "ms", words: "wind speed" },
  wind_dir_deg: { unit: "deg", words: "wind direction" },
  barometer_hpa: { unit: "hpa", words: "air pressure" },
  barometer_3h_hpa: { unit: "hpa", words: "change of air pressure" },
  water_level_m: { unit: "m", words: "water level" },
  salinity_psu: { unit: "psu", words: "salinity" },
} as const satisfies Record<string, { unit: UnitId; words: string }>

/** What is read of a station's file: what is kept, and the conductivity that a salinity is worked out from. */
export const measurable = { ...kept, conductivity: { unit: "ms_cm", words: "conductivity" } } as const

export type KeptColumn = keyof typeof kept
export type ReadColumn = keyof typeof measurable
export type Values = { readonly [C in KeptColumn]?: number }

const isKept = (key: string): key is KeptColumn => key in kept
const keptColumns: readonly KeptColumn[] = Object.keys(kept).filter(isKept)

/** The columns that were measured, each with its value. */
export const measured = (values: Values): [KeptColumn, number][] =>
  keptColumns.flatMap((column) => {
    const value = values[column]
    return value === undefined ? [] : [[column, value]]
  })

/** A column of a station's file that is read: where it stands, what it becomes, and from which unit. */
export type StationColumn = {
  readonly cell: number
  readonly header: string
  readonly target: ReadColumn
  readonly unit: UnitId
  /** Whether a cell's text means that nothing was measured. */
  readonly missing: (text: string) => boolean
  /** What to try where a value is none that could have been measured; empty where the file itself says its unit. */
  readonly hint: string
}

/** Heights of water are above a datum that the file does not name: lakes have theirs hundreds of metres away. */
const mostMetres = 1000
/** The saltest and warmest water of PSS-78, 42 at 35 °C, has 75 mS/cm by its own formula. */
const mostConductivity = 80

function mayBe(target: ReadColumn, value: number): boolean {
  if (target === "conductivity") return value >= 0 && value <= mostConductivity
  if (target === "water_level_m") return Math.abs(value) <= mostMetres
  return entities.observation.shape[target].safeParse(value).success
}

/** Reads one cell in the column's unit; null where nothing was measured. */
export function readCell(cell: string, { target, unit, missing, hint }: StationColumn): Read<number | null> {
  const text = cell.trim()
  if (missing(text)) return read(null)
  if (!/^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(text)) return refused("not a number")
  const value = convert(Number(text), unit, measurable[target].unit)
  if (!mayBe(target, value))
    return refused(`${text} ${units[unit].symbol} is no ${measurable[target].words}${hint}`)
  return read(value)
}

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

export type KeptColumn = keyof typeof kept
export type Values = { readonly [C in KeptColumn]?: number }

const isKept = (key: string): key is KeptColumn => key in kept
const keptColumns: readonly KeptColumn[] = Object.keys(kept).filter(isKept)

/** The columns that were measured, each with its value. */
export const measured = (values: Values): [KeptColumn, number][] =>
  keptColumns.flatMap((column) => {
    const value = values[column]
    return value === undefined ? [] : [[column, value]]
  })

/** A column of a station's file that is kept: where it stands, what it becomes, and from which unit. */
export type StationColumn = {
  readonly cell: number
  readonly header: string
  readonly target: KeptColumn
  readonly unit: UnitId
  /** Whether a cell's text means that nothing was measured. */
  readonly missing: (text: string) => boolean
  /** What to try where a value is none that could have been measured; empty where the file itself says its unit. */
  readonly hint: string
}

/** Heights of water are above a datum that the file does not name: lakes have theirs hundreds of metres away. */
const mostMetres = 1000

const mayBe = (target: KeptColumn, value: number): boolean =>
  target === "water_level_m"
    ? Math.abs(value) <= mostMetres
    : entities.observation.shape[target].safeParse(value).success

/** Reads one cell in the column's unit; null where nothing was measured. */
export function readCell(cell: string, { target, unit, missing, hint }: StationColumn): Read<number | null> {
  const text = cell.trim()
  if (missing(text)) return read(null)
  if (!/^[+-]?(\d+(\.\d*)?|\.\d+)$/.test(text)) return refused("not a number")
  const value = convert(Number(text), unit, kept[target].unit)
  if (!mayBe(target, value))
    return refused(`${text} ${units[unit].symbol} is no ${kept[target].words}${hint}`)
  return read(value)
}

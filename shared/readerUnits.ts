import { z } from "zod"
import { convert, units, type UnitId } from "./units.ts"

/** One choice, its first unit the metric one. What is no choice is refused by a sentence. */
const choice = <const U extends readonly [UnitId, ...UnitId[]]>(what: string, options: U) =>
  z
    .enum(options, {
      error: ({ input }) =>
        `${JSON.stringify(input)} is no unit that ${what} can be shown in. Choose one of ${options.join(", ")}.`,
    })
    .default(options[0])

/**
 * The units a reader sees and types, one choice for each kind of quantity; what is left out is metric. Stored values,
 * JSON and the plain tables stay in SI whatever is chosen here.
 */
export const ReaderUnits = z.object({
  temperature: choice("temperature", ["c", "f"]),
  /** Of wind, and of tidal currents. */
  speed: choice("speed", ["ms", "kn", "mph", "kmh"]),
  pressure: choice("air pressure", ["hpa", "inhg"]),
  /** Depths and heights of water; their rates go with them, an hour. */
  depth: choice("depth", ["m", "ft"]),
  /** How deep one sees into the water. */
  sight_depth: choice("depth of sight", ["cm", "in", "ft"]),
  /** Of fish and tackle. */
  length: choice("length", ["mm", "cm", "in"]),
  tackle_weight: choice("weight of tackle", ["g", "oz"]),
  fish_weight: choice("weight of fish", ["kg", "lb"]),
  line_strength: choice("line strength", ["n", "kgf", "lbf"]),
})
export type ReaderUnits = z.infer<typeof ReaderUnits>

/** The choices offered by name. What is usual in the United States: common practice, no source. */
export const presets = {
  metric: ReaderUnits.parse({}),
  us: {
    temperature: "f",
    speed: "kn",
    pressure: "inhg",
    depth: "ft",
    sight_depth: "ft",
    length: "in",
    tackle_weight: "oz",
    fish_weight: "lb",
    line_strength: "lbf",
  },
} as const satisfies Record<string, ReaderUnits>

/** Which choice the units of the store and the catalogue belong to. */
const choiceFor: Readonly<Partial<Record<UnitId, keyof ReaderUnits>>> = {
  c: "temperature",
  ms: "speed",
  hpa: "pressure",
  m: "depth",
  cm: "sight_depth",
  mm: "length",
  g: "tackle_weight",
  kg: "fish_weight",
  n: "line_strength",
}

/**
 * The unit in which a reader sees a quantity stored or listed in `unit`, and in which a bare number of his is to be read.
 * Units that are nobody's choice (angles, seconds, salinity, cloud) stay as they are.
 */
export function readerUnit(unit: UnitId, reader: ReaderUnits): UnitId {
  if (unit === "m_h") return reader.depth === "ft" ? "ft_h" : "m_h"
  const choice = choiceFor[unit]
  return choice === undefined ? unit : reader[choice]
}

/** Decimals that a measurement of the trade is worth in each unit; common practice, no source. None where not named. */
const usualDecimals: Readonly<Partial<Record<UnitId, number>>> = {
  c: 1,
  f: 1,
  ms: 2,
  kn: 1,
  hpa: 1,
  inhg: 2,
  m: 2,
  ft: 1,
  m_h: 2,
  ft_h: 2,
  cm: 1,
  in: 1,
  g: 1,
  oz: 2,
  kg: 2,
  lb: 1,
  kgf: 1,
  lbf: 1,
  psu: 1,
}

/** The number of a quantity stored in `unit` as the reader sees it, without its unit. */
export function quantityFigure(value: number, unit: UnitId, reader: ReaderUnits, decimals?: number): string {
  const seen = readerUnit(unit, reader)
  const text = convert(value, unit, seen).toFixed(decimals ?? usualDecimals[seen] ?? 0)
  return Number(text) === 0 ? text.replace("-", "") : text
}

/**
 * A quantity stored in `unit` as the reader sees it: 12 in "c" is "12.0 °C", or "53.6 °F". Ounces that are a size of the trade
 * are told as it writes them: 3.54 in "g" is "1/8 oz".
 */
export function quantityText(value: number, unit: UnitId, reader: ReaderUnits = presets.metric): string {
  const seen = readerUnit(unit, reader)
  const size = seen === "oz" ? tradeSize(convert(value, unit, seen)) : null
  return `${size ?? quantityFigure(value, unit, reader)} ${units[seen].symbol}`
}

/** Heads and sinkers come in these parts of an ounce; common practice, no source. */
const partsOfOunce = [2, 4, 8, 16, 32] as const
/** How far a weight may be off a size and still be it: what rounding to a hundredth of a gram does to the least. */
const sizeWithin_oz = 0.0005

/** Ounces as the trade writes them ("1 1/2"), or null where no size is meant. */
function tradeSize(ounces: number): string | null {
  const whole = Math.floor(ounces + sizeWithin_oz)
  if (ounces > 0 && Math.abs(ounces - whole) < sizeWithin_oz) return String(whole)
  for (const parts of partsOfOunce) {
    const count = Math.round((ounces - whole) * parts)
    if (count > 0 && Math.abs(ounces - whole - count / parts) < sizeWithin_oz)
      return `${whole > 0 ? `${whole} ` : ""}${count}/${parts}`
  }
  return null
}

/** Cuts are shown to within this part of the smallest stretch between two of them. */
const roundingAllowed = 0.05
const mostDecimals = 6

/**
 * Decimals that show cuts (stored in `unit`) as the reader sees them: the fewest with which rounding moves none by more
 * than a twentieth of the smallest stretch between two, so that all stay apart. A single cut gets the usual decimals.
 */
export function decimalsForCuts(cuts: readonly number[], unit: UnitId, reader: ReaderUnits): number {
  const seen = readerUnit(unit, reader)
  const values = [...new Set(cuts)].map((cut) => convert(cut, unit, seen)).sort((a, b) => a - b)
  const gaps = values.slice(1).map((value, i) => value - (values[i] ?? value))
  if (gaps.length === 0) return usualDecimals[seen] ?? 0
  const allowed = roundingAllowed * Math.min(...gaps)
  const holds = (decimals: number) =>
    values.every((value) => Math.abs(Number(value.toFixed(decimals)) - value) <= allowed)
  for (let decimals = 0; decimals < mostDecimals; decimals++) if (holds(decimals)) return decimals
  return mostDecimals
}

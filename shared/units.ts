/** What a quantity measures. Two units convert into one another only within one dimension. */
export type Dimension =
  | "length"
  | "mass"
  | "force"
  | "temperature"
  | "speed"
  | "pressure"
  | "angle"
  | "time"
  | "salinity"
  | "conductivity"
  | "cloud"
  | "level rate"

/**
 * One unit as people write it. `toSi` and `offset` give the value in the dimension's SI unit used by the store:
 * si = value x toSi + offset. `spellings` are lower-case, without spaces and full stops; the first one is printed.
 */
export type Unit = {
  readonly dimension: Dimension
  readonly toSi: number
  readonly offset: number
  readonly symbol: string
  readonly spellings: readonly string[]
}

const unit = (
  dimension: Dimension,
  toSi: number,
  symbol: string,
  spellings: readonly string[],
  offset = 0,
): Unit => ({ dimension, toSi, offset, symbol, spellings })

/**
 * Units of the plain tables, by the suffix used in column names. Lengths come out in metres, masses in kilograms,
 * forces in newtons, temperatures in degrees Celsius, speeds in m/s, pressures in Pa, angles in radians, times in
 * seconds, conductivities in S/m. Exact factors: NIST SP 811 (2008), Appendix B.8 and B.9 (values from memory); inches and millimetres
 * of mercury are conventional, not exact.
 */
export const units = {
  mm: unit("length", 0.001, "mm", ["mm", "millimetre", "millimetres", "millimeter", "millimeters"]),
  cm: unit("length", 0.01, "cm", ["cm", "centimetre", "centimetres", "centimeter", "centimeters"]),
  m: unit("length", 1, "m", ["m", "metre", "metres", "meter", "meters"]),
  in: unit("length", 0.0254, "in", ["in", '"', "inch", "inches", "″"]),
  ft: unit("length", 0.3048, "ft", ["ft", "'", "foot", "feet", "′"]),
  yd: unit("length", 0.9144, "yd", ["yd", "yard", "yards"]),
  fathom: unit("length", 1.8288, "fathom", ["fathom", "fathoms", "fm", "ftm"]),
  g: unit("mass", 0.001, "g", ["g", "gram", "grams", "gr"]),
  kg: unit("mass", 1, "kg", ["kg", "kilogram", "kilograms", "kilo", "kilos"]),
  oz: unit("mass", 0.028349523125, "oz", ["oz", "ounce", "ounces"]),
  lb: unit("mass", 0.45359237, "lb", ["lb", "lbs", "pound", "pounds"]),
  n: unit("force", 1, "N", ["n", "newton", "newtons"]),
  kgf: unit("force", 9.80665, "kg test", ["kg", "kgf", "kg-test", "kgtest"]),
  lbf: unit("force", 4.4482216152605, "lb test", ["lb", "lbs", "lbf", "lb-test", "lbtest", "#"]),
  c: unit("temperature", 1, "°C", ["c", "°c", "degc", "celsius"]),
  f: unit("temperature", 5 / 9, "°F", ["f", "°f", "degf", "fahrenheit"], -160 / 9),
  k: unit("temperature", 1, "K", ["k", "kelvin"], -273.15),
  ms: unit("speed", 1, "m/s", ["m/s", "ms", "mps"]),
  kn: unit("speed", 1852 / 3600, "kn", ["kn", "kt", "kts", "knot", "knots"]),
  mph: unit("speed", 0.44704, "mph", ["mph", "mi/h"]),
  kmh: unit("speed", 1 / 3.6, "km/h", ["km/h", "kmh", "kph"]),
  hpa: unit("pressure", 100, "hPa", ["hpa"]),
  mbar: unit("pressure", 100, "mbar", ["mbar", "mb", "millibar", "millibars"]),
  inhg: unit("pressure", 3386.389, "inHg", ["inhg", '"hg']),
  mmhg: unit("pressure", 133.322, "mmHg", ["mmhg"]),
  rad: unit("angle", 1, "rad", ["rad", "radian", "radians"]),
  deg: unit("angle", Math.PI / 180, "°", ["deg", "°", "degree", "degrees"]),
  s: unit("time", 1, "s", ["s", "sec", "secs", "second", "seconds"]),
  min: unit("time", 60, "min", ["min", "mins", "minute", "minutes"]),
  psu: unit("salinity", 1, "psu", ["psu", "ppt", "‰"]),
  ms_cm: unit("conductivity", 0.1, "mS/cm", ["ms/cm"]),
  okta: unit("cloud", 1, "okta", ["okta", "oktas", "/8", "eighths"]),
  m_h: unit("level rate", 1 / 3600, "m/h", ["m/h", "mh"]),
  ft_h: unit("level rate", 0.3048 / 3600, "ft/h", ["ft/h", "fth"]),
} as const satisfies Record<string, Unit>

export type UnitId = keyof typeof units

/** Converts a value between two units of one dimension. Throws RangeError when the dimensions differ (our bug). */
export function convert(value: number, from: UnitId, to: UnitId): number {
  const a = units[from]
  const b = units[to]
  if (a.dimension !== b.dimension) throw new RangeError(`cannot convert ${a.symbol} to ${b.symbol}`)
  if (from === to) return value
  return (value * a.toSi + a.offset - b.offset) / b.toSi
}

/** The unit a spelling stands for within a dimension ("Ft." is feet where a length is wanted), or null. */
export function unitFor(spelling: string, dimension: Dimension): UnitId | null {
  const key = spelling.toLowerCase().replaceAll(/[\s._]/g, "")
  for (const id of unitIds) {
    const candidate: Unit = units[id]
    if (candidate.dimension === dimension && (candidate.spellings.includes(key) || id === key)) return id
  }
  return null
}

const isUnitId = (key: string): key is UnitId => key in units

/** Every unit. */
export const unitIds: readonly UnitId[] = Object.keys(units).filter(isUnitId)

import { convert } from "./units.ts"

/** The speeds of one force as printed, whole knots and tenths of m/s; null where the class has no upper end. */
type Force = {
  readonly name: string
  readonly knots: readonly [number, number | null]
  readonly ms: readonly [number, number | null]
}

const force = (name: string, knots: Force["knots"], ms: Force["ms"]): Force => ({ name, knots, ms })

/**
 * The Beaufort scale of wind (10-minute mean at 10 m), its place in the list being the force. Source: WMO-No. 306, Manual
 * on Codes, code table 1100 (from memory). The printed columns are rounded, each for itself, and leave gaps.
 */
export const beaufort: readonly Force[] = [
  force("calm", [0, 0], [0, 0.2]),
  force("light air", [1, 3], [0.3, 1.5]),
  force("light breeze", [4, 6], [1.6, 3.3]),
  force("gentle breeze", [7, 10], [3.4, 5.4]),
  force("moderate breeze", [11, 16], [5.5, 7.9]),
  force("fresh breeze", [17, 21], [8, 10.7]),
  force("strong breeze", [22, 27], [10.8, 13.8]),
  force("near gale", [28, 33], [13.9, 17.1]),
  force("gale", [34, 40], [17.2, 20.7]),
  force("strong gale", [41, 47], [20.8, 24.4]),
  force("storm", [48, 55], [24.5, 28.4]),
  force("violent storm", [56, 63], [28.5, 32.6]),
  force("hurricane", [64, null], [32.7, null]),
]

/** The Beaufort force of a wind in m/s, by limits half way between the printed knots: 0.5, 3.5, 6.5, 10.5 and so on. */
export function forceOf(speed_ms: number): number {
  const speed = convert(speed_ms, "ms", "kn")
  return beaufort.findIndex(({ knots: [, to] }) => to === null || speed < to + 0.5)
}

/** Changes of air pressure over 3 hours by their least, tenths of hPa. */
const tendencies = [
  { from: 61, word: "very rapidly" },
  { from: 36, word: "quickly" },
  { from: 16, word: "" },
  { from: 1, word: "slowly" },
] as const

/**
 * What the barometer does, from its change over 3 hours in hPa: "steady" below a tenth, else "falling slowly", "falling",
 * "falling quickly", "falling very rapidly", and so with rising. Source: WMO-No. 306, code table 0200 (steady), and the UK Met
 * Office's marine glossary (slowly to 1.5, quickly from 3.6, very rapidly above 6.0), both from memory.
 */
export function tendencyOf(change_hpa: number): string {
  const tenths = Math.round(Math.abs(change_hpa) * 10)
  const found = tendencies.find(({ from }) => tenths >= from)
  if (found === undefined) return "steady"
  return `${change_hpa < 0 ? "falling" : "rising"} ${found.word}`.trimEnd()
}

/** The sixteen points of the compass, clockwise from north. */
export const compassPoints = "N NNE NE ENE E ESE SE SSE S SSW SW WSW W WNW NW NNW".split(" ")
/** Degrees from one of the sixteen points to the next. */
export const degreesAPoint = 22.5

/** The nearest of the sixteen points to a direction in degrees: "N" from 348.75 to below 11.25. */
export function pointOf(degrees: number): string {
  const points = Math.round(degrees / degreesAPoint) % compassPoints.length
  return compassPoints.at(points) ?? ""
}

/**
 * Words for how much of the sky is covered, in oktas from and to. Source: US FMH-1, Surface Weather Observations and
 * Reports, contractions of sky cover (from memory).
 */
export const skyCover = [
  { code: "CLR", name: "clear", oktas: [0, 0] },
  { code: "FEW", name: "few", oktas: [1, 2] },
  { code: "SCT", name: "scattered", oktas: [3, 4] },
  { code: "BKN", name: "broken", oktas: [5, 7] },
  { code: "OVC", name: "overcast", oktas: [8, 8] },
] as const

/**
 * Oktas of a sky covered to so many per cent, 0 to 100: the nearest, but 0 only without any cloud and 8 only without any
 * gap. Source of that rule: WMO-No. 306, code table 2700 (from memory).
 */
export function oktasOfPercent(percent: number): number {
  if (percent === 0 || percent === 100) return percent === 0 ? 0 : 8
  return Math.min(7, Math.max(1, Math.round((percent / 100) * 8)))
}

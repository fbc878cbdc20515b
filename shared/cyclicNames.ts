import { factorOf, type Cyclic, type FactorId } from "./factors.ts"
import { pointOf } from "./weather.ts"

/** Parts in which a cyclic factor is asked about, from 0. */
export const octants = 8

/** Mean days from one new moon to the next. Source: Meeus (1998) Astronomical Algorithms, chapter 49 (from memory). */
const lunation_days = 29.530588861
const sizes = ["first", "second", "third", "last"]
const dates = new Intl.DateTimeFormat("en", { month: "short", day: "numeric", timeZone: "UTC" })
const dateOf = (day: number): string => dates.format(Date.UTC(2001, 0, day))

type NameOfOctant = (octant: number, period: number) => string

const names: Readonly<Partial<Record<FactorId, NameOfOctant>>> = {
  wind_dir_deg: (octant) => `${pointOf(octant * 45)} to ${pointOf((octant + 1) * 45)}`,
  tide_phase_rad: (octant) => `${sizes[octant % 4] ?? ""} quarter of the ${octant < 4 ? "rise" : "fall"}`,
  moon_phase_rad: (octant) => {
    const days = (edge: number) => Math.round((lunation_days * edge) / octants)
    return `${days(octant)} to ${days(octant + 1)} days old`
  },
  hour_local: (octant) => `${octant * 3}:00 to ${(octant + 1) * 3}:00`,
  day_of_year: (octant, period) => {
    const first = (part: number) => Math.ceil((period * part) / octants)
    return `${dateOf(Math.max(1, first(octant)))} to ${dateOf(Math.min(365, first(octant + 1) - 1))}`
  },
}

const monthNames = new Intl.DateTimeFormat("en", { month: "short", timeZone: "UTC" })
const months = Array.from({ length: 13 }, (_, i) => monthNames.format(Date.UTC(2001, i % 12)))

/** What stands at equal steps of the whole round, its two ends included. */
const marks: Readonly<Partial<Record<FactorId, readonly string[]>>> = {
  wind_dir_deg: ["N", "E", "S", "W", "N"],
  tide_phase_rad: ["low water", "mid-rise", "high water", "mid-fall", "low water"],
  moon_phase_rad: ["new moon", "first quarter", "full moon", "last quarter", "new moon"],
  hour_local: ["0:00", "6:00", "12:00", "18:00", "24:00"],
  day_of_year: months,
}

/** Words along the round of a cyclic factor, at equal steps from 0 to its period: for the axis of a curve. Null where it has none. */
export const roundMarks = (by: FactorId): readonly string[] | null => marks[by] ?? null

/** Which eighth of the round a value lies in, from 0; the round is gone on with beyond its ends. */
export function octantOf(value: number, { period }: Cyclic): number {
  const inRound = ((value % period) + period) % period
  return Math.min(octants - 1, Math.floor((inRound / period) * octants))
}

/** Names an eighth of a cyclic factor's round as it is read: a wind by where it comes from, a tide by quarters of its rise and fall, a
 *  moon by its age, a day by its dates. Null where the factor has no such names; `from` is where the eighth begins, in its unit. */
export function octantName(by: FactorId, from: number): string | null {
  const factor = factorOf(by)
  const name = names[by]
  if (factor.kind !== "cyclic" || name === undefined) return null
  return name(Math.round((from / factor.period) * octants) % octants, factor.period)
}

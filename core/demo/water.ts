import type { visibilities, waterMovements } from "../../shared/vocabulary.ts"
import { normal, type Random } from "../stats/random.ts"
import { planted } from "./planted.ts"

/** The water and the weather of one day; each of them remembers the day before. */
export type DayWater = {
  readonly water_temp_c: number
  readonly visibility: (typeof visibilities)[number]
  readonly wind_speed_ms: number
  readonly wind_dir_deg: number
  readonly cloud_okta: number
  readonly barometer_hpa: number
  /** Change since the day before, spread over its hours: what three of them bring. */
  readonly barometer_3h_hpa: number
}

/** Water and weather of `days` days in a row, the first being a 1 January. */
export function* dailyWater(random: Random, days: number): Generator<DayWater> {
  const warm = memory(random, 0.85)
  const murk = memory(random, 0.6)
  const breeze = memory(random, 0.5)
  const veer = memory(random, 0.6)
  const cover = memory(random, 0.5)
  const glass = memory(random, 0.7)
  let yesterday = 1018
  for (let day = 0; day < days; day++) {
    const pressure = 1018 + 5 * glass()
    yield {
      water_temp_c: seasonalTempC(day % 365.25) + 1.2 * warm(),
      visibility: visibilityOf(murk()),
      wind_speed_ms: 4 * Math.exp(0.45 * breeze()),
      wind_dir_deg: (((160 + 70 * veer()) % 360) + 360) % 360,
      cloud_okta: Math.max(0, Math.min(8, Math.round(4 + 3 * cover()))),
      barometer_hpa: pressure,
      barometer_3h_hpa: (pressure - yesterday) / 8,
    }
    yesterday = pressure
  }
}

/** A stationary series of standard normal values, each of which remembers the last by `keep` (an AR(1) process). */
function memory(random: Random, keep: number): () => number {
  let value = normal(random)
  return () => {
    value = keep * value + Math.sqrt(1 - keep ** 2) * normal(random)
    return value
  }
}

/** The month's middle has its stated temperature; between two middles it runs straight. */
function seasonalTempC(dayOfYear: number): number {
  const months = planted.waterTempC
  const position = (dayOfYear / 365.25) * 12 - 0.5
  const before = Math.floor(position)
  const at = (month: number) => months[(month + 12) % 12] ?? 0
  return at(before) + (position - before) * (at(before + 1) - at(before))
}

/** Cuts a standard normal value at the quantiles of the stated parts of the days: muddy below, clear above. */
function visibilityOf(value: number): DayWater["visibility"] {
  if (value < -0.6745) return "muddy"
  if (value < 0.5244) return "stained"
  return value < 1.8808 ? "slightly stained" : "clear"
}

/** How the water is seen to move at a rate of rise or fall, m/h; null where no tide is known. */
export function movementSeen(rate: number | null): (typeof waterMovements)[number] | null {
  if (rate === null) return null
  const speed = Math.abs(rate)
  if (speed < 0.1) return "still"
  if (speed < 0.35) return "easy"
  return speed < 0.6 ? "good" : "ripping"
}

/** The water warms by a little over the day. Instants in UTC ms. */
export const waterTempAt = (day: DayWater, start: number, when: number): number =>
  day.water_temp_c + (0.15 * (when - start)) / 3_600_000

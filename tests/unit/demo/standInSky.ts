import { lightUnder } from "../../../core/conditions/light.ts"
import { moonAt } from "../../../core/conditions/moon.ts"
import { sunPosition } from "../../../core/conditions/sun.ts"
import type { Sky, SkyAt } from "../../../core/demo/sky.ts"
import { tideParts } from "../../../shared/vocabulary.ts"

/** Period of the principal lunar tide, hours. Source: standard constituent M2, 28.9841042 degrees an hour. */
const m2Hours = 360 / 28.9841042

/**
 * Sun, light and moon as the product works them out; for the tide one cosine of 2.2 m, which costs nothing and has every
 * part of the tide in its place. Lags move its high and low waters.
 */
export const standInSky: SkyAt = (at, spot): Sky => {
  const sun = sunPosition(at, spot)
  const lagHours = ((spot.lag_high_min ?? 0) + (spot.lag_low_min ?? 0)) / 120
  const turns = (at / 3_600_000 - lagHours) / m2Hours
  const phase = 2 * Math.PI * (turns - Math.floor(turns))
  return {
    light: lightUnder(sun),
    sun_altitude_deg: sun.altitude_deg,
    moon_illum: moonAt(at).moon_illum,
    tide_phase_rad: phase,
    tide_part: partOf(phase),
    tide_height_m: 1.1 - 1.1 * Math.cos(phase),
    tide_rate_m_h: ((1.1 * 2 * Math.PI) / m2Hours) * Math.sin(phase),
  }
}

/** Within a ninth of a rise of the turn the tide stands; what is left of rise and fall goes in thirds. Ours, for tests only. */
function partOf(phase: number): string {
  const stand = Math.PI / 9
  const [low, firstRise, midRise, lastRise, high, firstFall, midFall, lastFall] = tideParts
  const fromTurn = phase % Math.PI
  const rising = phase < Math.PI
  if (fromTurn < stand) return rising ? low : high
  if (fromTurn > Math.PI - stand) return rising ? high : low
  const third = Math.floor(((fromTurn - stand) / (Math.PI - 2 * stand)) * 3)
  const parts = rising ? [firstRise, midRise, lastRise] : [firstFall, midFall, lastFall]
  return parts[Math.min(2, third)] ?? low
}

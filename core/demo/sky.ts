import { conditionsFrom } from "../conditions/compute.ts"
import type { Light } from "../conditions/light.ts"
import type { SpotWater } from "../conditions/spotWater.ts"
import type { Stations } from "../conditions/stations/stations.ts"
import { zone } from "./scenario.ts"

/** The sky and the tide over a spot at an instant, as the conditions give them. Heights in metres, angles as named. */
export type Sky = {
  readonly light: Light
  readonly tide_part: string | null
  readonly tide_phase_rad: number | null
  readonly tide_height_m: number | null
  readonly tide_rate_m_h: number | null
  readonly moon_illum: number
  readonly sun_altitude_deg: number
}

/** `at` in UTC milliseconds. */
export type SkyAt = (at: number, spot: SpotWater & { readonly lat: number; readonly lon: number }) => Sky

/** The sky as the product itself works it out, with tides by the given stations. */
export function skyFrom(stations: Stations): SkyAt {
  const conditionsOf = conditionsFrom(stations)
  return (at, spot) => {
    const found = conditionsOf({ start_at: at, end_at: at, zone, spot })
    if (found === null || found.light === null || found.sun_altitude_deg === null)
      throw new Error("a spot of the sample has a place")
    return {
      light: found.light,
      sun_altitude_deg: found.sun_altitude_deg,
      moon_illum: found.moon_illum,
      tide_part: found.tide_part,
      tide_phase_rad: found.tide_phase_rad,
      tide_height_m: found.tide_height_m,
      tide_rate_m_h: found.tide_rate_m_h,
    }
  }
}

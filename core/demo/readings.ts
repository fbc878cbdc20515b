import type { Draft } from "../../shared/entities.ts"
import { normal, type Random } from "../stats/random.ts"
import { between, chance, pick, whole } from "./draw.ts"
import type { TrueStop, TrueTrip } from "./outing.ts"
import { readTo } from "./tradeUnits.ts"
import { movementSeen, waterTempAt } from "./water.ts"

type Reading = Readonly<Draft<"observation">>

const minuteMs = 60_000
const rounded = (value: number, step: number): number => Number((Math.round(value / step) * step).toFixed(2))

/** What was seen and measured on a trip: at its start, at some of its stops, hardly ever for one stint. */
export function readingsOf(random: Random, day: TrueTrip, stops: readonly TrueStop[]): Reading[] {
  const { plan } = day
  if (plan.completeness === "catches only") return []
  if (plan.recorded === "later") return chance(random, 0.6) ? [lookedBack(day)] : []
  return [...atTheStart(random, day), ...stops.flatMap((stop) => atTheStop(random, day, stop))]
}

/** From memory: no instant, and nothing that needs an instrument. */
const lookedBack = ({ plan, water }: TrueTrip): Reading => ({
  trip_id: plan.key,
  source: "seen",
  visibility: water.visibility,
  cloud_okta: water.cloud_okta < 4 ? 2 : 6,
})

function atTheStart(random: Random, day: TrueTrip): Reading[] {
  const { plan, water } = day
  const at = plan.start + whole(random, 2, 12) * minuteMs
  const seen: Reading = {
    trip_id: plan.key,
    at,
    source: "seen",
    visibility: chance(random, 0.95) ? water.visibility : null,
    water_colour: chance(random, 0.3) ? pick(random, ["green", "brown", "tea"]) : null,
    cloud_okta: chance(random, 0.85) ? water.cloud_okta : null,
    wind_speed_ms: chance(random, 0.9) ? readTo(water.wind_speed_ms, "ms", { unit: "kn", step: 1 }) : null,
    wind_dir_deg: chance(random, 0.85) ? rounded(water.wind_dir_deg, 22.5) % 360 : null,
  }
  const measured: Reading = {
    trip_id: plan.key,
    at: at + minuteMs,
    source: "instrument",
    water_temp_c: chance(random, 0.93) ? tempReading(random, day, at) : null,
    barometer_hpa: readTo(water.barometer_hpa, "hpa", glass),
    barometer_3h_hpa: chance(random, 0.7) ? readTo(water.barometer_3h_hpa, "hpa", glass) : null,
    salinity_psu: chance(random, 0.1) ? rounded(between(random, 14, 28), 0.5) : null,
    secchi_cm: chance(random, 0.1)
      ? readTo(secchi[water.visibility] + whole(random, -2, 2) * 5, "cm", { unit: "ft", step: 0.5 })
      : null,
  }
  return chance(random, 0.92) ? [seen, measured] : [seen]
}

const glass = { unit: "inhg", step: 0.01 } as const
const secchi = { muddy: 20, stained: 40, "slightly stained": 75, clear: 140 }

const tempReading = (random: Random, { plan, water }: TrueTrip, at: number): number =>
  readTo(waterTempAt(water, plan.start, at) + 0.15 * normal(random), "c", { unit: "f", step: 0.5 })

function atTheStop(random: Random, day: TrueTrip, stop: TrueStop): Reading[] {
  const { plan } = day
  const at = stop.start + whole(random, 1, 8) * minuteMs
  const readings: Reading[] = []
  if (chance(random, 0.45))
    readings.push({
      trip_id: plan.key,
      stop_id: stop.key,
      at,
      source: "seen",
      water_movement: movementSeen(stop.tideRate),
      bank_water: chance(random, 0.5)
        ? pick(random, ["in the grass", "at the edge", "off the edge", "mud showing"])
        : null,
      bait_seen: pick(random, ["none", "mullet", "shrimp", "mullet", "menhaden", "none"]),
      other_boats: chance(random, 0.5) ? whole(random, 0, 3) : null,
    })
  if (chance(random, 0.3))
    readings.push({
      trip_id: plan.key,
      stop_id: stop.key,
      at: at + minuteMs,
      source: "instrument",
      water_temp_c: tempReading(random, day, at),
      water_depth_m: readTo(Math.max(0.3, stop.spot.usual_depth_m + between(random, -0.4, 0.8)), "m", {
        unit: "ft",
        step: 0.5,
      }),
    })
  const [stint] = stop.stints
  if (stint !== undefined && chance(random, 0.03))
    readings.push({
      trip_id: plan.key,
      stop_id: stop.key,
      stint_id: stint.key,
      at: stint.start + minuteMs,
      source: "instrument",
      water_temp_c: tempReading(random, day, stint.start),
    })
  return readings
}

import type { DayReading } from "../../../shared/day.ts"
import { add, type OpenChange, removeById } from "../../store/put.ts"
import { align } from "../align.ts"
import type { Days, Tally } from "../days.ts"
import { readingKey } from "../keys.ts"
import { differing, patch } from "../patch.ts"

const readingColumns = [
  "at",
  "source",
  "water_temp_c",
  "visibility",
  "water_colour",
  "secchi_cm",
  "salinity_psu",
  "water_depth_m",
  "water_movement",
  "bank_water",
  "wind_speed_ms",
  "wind_dir_deg",
  "cloud_okta",
  "barometer_hpa",
  "barometer_3h_hpa",
  "bait_seen",
  "other_boats",
] as const

/** Makes the day's readings those wanted. */
export function putReadings(
  change: OpenChange,
  trip: string,
  { before, after }: Days,
  stopIds: readonly string[],
  stintIds: readonly string[],
): Tally {
  const found = align(
    before.readings.map((reading) => ({ reading, day: before })),
    after.readings.map((reading) => ({ reading, day: after })),
    ({ reading }) => reading.id,
    ({ reading, day }) => readingKey(reading, day),
    (one, other) => one.reading.at === other.reading.at,
  )
  const tally: Tally = { made: 0, changed: 0, removed: 0 }
  const placeOf = ({ stop, stint }: DayReading) => ({
    stint_id: stint === null ? null : (stintIds[stint] ?? null),
    stop_id:
      stint !== null
        ? (stopIds[after.stints[stint]?.stop ?? -1] ?? null)
        : stop === null
          ? null
          : (stopIds[stop] ?? null),
  })
  for (const [j, reading] of after.readings.entries()) {
    const old = before.readings[found[j] ?? -1]
    const { id: _, stop: __, stint: ___, ...cells } = reading
    if (old?.id == null) {
      add(change, "observation", { ...cells, ...placeOf(reading), trip_id: trip })
      tally.made += 1
      continue
    }
    const differs = differing(old, reading, readingColumns)
    if (patch(change, "observation", old.id, { ...differs, ...placeOf(reading) })) tally.changed += 1
  }
  for (const [at, { id }] of before.readings.entries())
    if (id !== null && !found.includes(at)) {
      removeById(change, "observation", id)
      tally.removed += 1
    }
  return tally
}

import { Temporal } from "temporal-polyfill"

/**
 * The local clock hour at an instant, as hours with fraction from 0 to below 24. `at` in UTC milliseconds; `zone` an
 * IANA name. On days with a clock change the hour is what a watch on the spot shows. Throws RangeError for an unknown
 * zone.
 */
export function localHour(at: number, zone: string): number {
  const time = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone)
  return time.hour + time.minute / 60 + time.second / 3600
}

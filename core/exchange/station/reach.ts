import { Temporal } from "temporal-polyfill"
import type { TripTimes } from "../../store/read/tripTimes.ts"
import { knownZone } from "../read/zone.ts"

/** Readings are kept from this long before a trip to this long after it: as far as any of them is carried to a stint. */
export const reachHours = 3

const hourMs = 3_600_000
const dayMs = 24 * hourMs

type Span = { readonly id: string; readonly from: number; readonly to: number }

/**
 * Which trips an instant (UTC ms) is within reach of. A trip lasts from its start to its end; where one is not known,
 * from or to midnight of its local day.
 */
export function reachOf(trips: readonly TripTimes[]): (at: number) => readonly string[] {
  const byDay = new Map<number, Span[]>()
  for (const span of trips.map(spanOf))
    for (let day = dayOf(span.from); day <= dayOf(span.to); day++) {
      const spans = byDay.get(day)
      if (spans === undefined) byDay.set(day, [span])
      else spans.push(span)
    }
  return (at) =>
    (byDay.get(dayOf(at)) ?? []).filter(({ from, to }) => from <= at && at <= to).map(({ id }) => id)
}

const dayOf = (at: number): number => Math.floor(at / dayMs)

function spanOf({ id, date, zone, start_at, end_at }: TripTimes): Span {
  const day = Temporal.PlainDate.from(date)
  const midnight = (of: Temporal.PlainDate) => of.toZonedDateTime(knownZone(zone) ?? "UTC").epochMilliseconds
  const from = start_at ?? midnight(day)
  const to = Math.max(from, end_at ?? midnight(day.add({ days: 1 })))
  return { id, from: from - reachHours * hourMs, to: to + reachHours * hourMs }
}

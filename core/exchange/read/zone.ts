import { Temporal } from "temporal-polyfill"
import { ProblemError } from "../../../shared/problems.ts"
import type { ReadOptions } from "../draft.ts"
import { type Clock, type Day, dayNumber, utcOf } from "./dates.ts"

/** Where a row's zone comes from, in the order in which they are tried. */
export type ZoneSource = "row" | "spot" | "option" | "home" | "none"
export type RowZone = { readonly zone: string; readonly from: ZoneSource }

/**
 * The zone in which a row's clock times are read: the row's own, else its spot's, else the one given for the import, else
 * the logbook's home zone, else UTC. The machine's zone is never asked.
 */
export function zoneFor(own: string | null, spot: string | null, options: ReadOptions): RowZone {
  if (own !== null) return { zone: own, from: "row" }
  const ofSpot = spot === null ? undefined : options.spot_zones.get(spot.toLowerCase())
  if (ofSpot !== undefined) return { zone: ofSpot, from: "spot" }
  if (options.zone !== null) return { zone: options.zone, from: "option" }
  if (options.home_zone !== null) return { zone: options.home_zone, from: "home" }
  return { zone: "UTC", from: "none" }
}

const canonical = new Map<string, string | null>()

/** The IANA name in its usual letters, or null where there is no such zone. Bare offsets are not zones. */
export function knownZone(name: string): string | null {
  const key = name.trim()
  let found = canonical.get(key)
  if (found === undefined) {
    found = /^[a-z]/i.test(key) ? lookUp(key) : null
    canonical.set(key, found)
  }
  return found
}

function lookUp(name: string): string | null {
  try {
    return Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(name).timeZoneId
  } catch (error) {
    if (error instanceof RangeError) return null
    throw error
  }
}

/** Checks the zone given for a whole import. Throws ProblemError "unknown_zone". */
export function requireZone(name: string | null): void {
  if (name === null || knownZone(name) !== null) return
  throw new ProblemError(
    "unknown_zone",
    `There is no time zone "${name}". Write its IANA name, such as America/New_York.`,
    { zone: name },
  )
}

export type LocalInstant =
  | { readonly kind: "exact"; readonly at: number }
  | { readonly kind: "twice"; readonly at: number; readonly again: number }
  | { readonly kind: "skipped" }

const dayMs = 86_400_000
const offsets = new Map<string, Map<number, number>>()

/** The zone's offset from UTC in ms at 00:00 UTC of a day; one look into the zone's rules a day, however many rows. */
function offsetAtDay(zone: string, day: number): number {
  let ofZone = offsets.get(zone)
  if (ofZone === undefined) {
    ofZone = new Map()
    offsets.set(zone, ofZone)
  }
  let offset = ofZone.get(day)
  if (offset === undefined) {
    offset =
      Temporal.Instant.fromEpochMilliseconds(day * dayMs).toZonedDateTimeISO(zone).offsetNanoseconds / 1e6
    ofZone.set(day, offset)
  }
  return offset
}

/**
 * The instant (UTC ms) of a local date and clock time. A time that comes twice when clocks go back is the first of the
 * two, the other being `again`; one that is skipped when they go forward is no instant.
 */
export function instantOf(zone: string, day: Day, clock: Clock): LocalInstant {
  const number = dayNumber(day)
  const local = utcOf(day, clock)
  const offset = offsetAtDay(zone, number)
  if ([-1, 1, 2].every((days) => offsetAtDay(zone, number + days) === offset)) {
    return { kind: "exact", at: local - offset }
  }
  const plain = Temporal.PlainDateTime.from({ ...day, ...clock })
  const earlier = plain.toZonedDateTime(zone, { disambiguation: "earlier" })
  const later = plain.toZonedDateTime(zone, { disambiguation: "later" })
  if (earlier.epochMilliseconds === later.epochMilliseconds)
    return { kind: "exact", at: earlier.epochMilliseconds }
  if (!earlier.toPlainDateTime().equals(plain)) return { kind: "skipped" }
  return { kind: "twice", at: earlier.epochMilliseconds, again: later.epochMilliseconds }
}

/** The local date of an instant. */
export function localDay(zone: string, at: number): Day {
  const { year, month, day } = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone)
  return { year, month, day }
}

import { z } from "zod"
import type { Day, DayReading, DayStint, DayStop, DayStrike, DayUnread } from "../../shared/day.ts"
import { entities, type Entity } from "../../shared/entities.ts"
import { newId } from "../store/ids.ts"
import { add, type OpenChange, put, removeById, rowById } from "../store/put.ts"
import { dayOrdinals } from "../store/read/day.ts"
import { canonicalDay, cellsKey } from "../tape/canonical.ts"
import type { TapeDay } from "../tape/reader.ts"
import { align } from "./align.ts"
import { mayBeSame, readingKey, stintKey, stopKey, unreadKey } from "./keys.ts"

type Tally = { made: number; changed: number; removed: number }

/** What a change of a day did to its rows, and the stints of the day as they are stored now, in order. */
export type Reconciled = {
  readonly stints: Tally
  readonly readings: Tally
  readonly others: number
  readonly ids: readonly string[]
}

/**
 * Makes the rows of a trip tell the day `wanted`, inside the caller's change. `stored` is the day as it stands. Rows that say
 * the same stay as they are, with their ids; of those that differ only what differs is written; what a tape cannot say of
 * a row is left alone. A tape leaves the sheet's unread cells alone; what the running log writes is recorded live.
 */
export function reconcileDay(
  change: OpenChange,
  trip: string,
  stored: Day,
  wanted: TapeDay,
  how: "tape" | "sheet" | "log",
): Reconciled {
  const before = canonicalDay(how !== "tape" ? stored : { ...stored, unread: stored.unread.filter(isLine) })
  const after = canonicalDay(wanted)
  const stintOf = align(
    before.stints.map((stint) => ({ stint, day: before })),
    after.stints.map((stint) => ({ stint, day: after })),
    ({ stint }) => stint.id,
    ({ stint, day }) => stintKey(stint, day),
    (one, other) => mayBeSame(one.stint, other.stint),
  )
  const count = { others: 0 }
  const ordinalOf = ordinalsIn(change, trip)
  const stopIds = putStops(change, trip, { before, after, stintOf }, ordinalOf, count)
  const rawGroups = new Map(stored.stints.map(({ id, share_group }) => [id, share_group]))
  const groups = groupIds(rawGroups, before, after, stintOf)
  const stints: Tally = { made: 0, changed: 0, removed: 0 }
  const ordinals = ascending(stintOf.map((at) => ordinalOf(before.stints[at]?.id ?? null)))
  const ids = after.stints.map((stint, j) => {
    const old = before.stints[stintOf[j] ?? -1]
    const place: StintPlace = {
      stop_id: stopIds[stint.stop] ?? null,
      ordinal: ordinals[j] ?? j,
      share_group: stint.share_group === null ? null : (groups.get(stint.share_group) ?? null),
    }
    if (old?.id == null) {
      const { id: _, stop: __, strikes, ...cells } = stint
      const id = add(change, "stint", NewStint.parse({ ...cells, ...place }))
      for (const [ordinal, { id: ___, ...strike }] of strikes.entries())
        add(change, "strike", { ...strike, stint_id: id, ordinal })
      stints.made += 1
      return id
    }
    const standing = {
      stop_id: before.stops[old.stop]?.id ?? null,
      ordinal: ordinalOf(old.id),
      share_group: rawGroups.get(old.id) ?? null,
    }
    const shifted = patch(change, "stint", old.id, differing(standing, place, placeColumns))
    const changed = patch(change, "stint", old.id, stintPatch(old, stint))
    const struck = putStrikes(change, old, stint, ordinalOf)
    if (changed || struck) stints.changed += 1
    else if (shifted) count.others += 1
    return old.id
  })
  const readings = putReadings(change, trip, { before, after }, stopIds, ids)
  count.others += putUnread(change, trip, { before, after }, ids)
  for (const [at, { id }] of before.stints.entries())
    if (id !== null && !stintOf.includes(at)) {
      removeStint(change, id)
      stints.removed += 1
    }
  for (const { id } of before.stops)
    if (id !== null && !stopIds.includes(id)) {
      removeById(change, "stop", id)
      count.others += 1
    }
  if (putHead(change, trip, before, after, how)) count.others += 1
  return { stints, readings, others: count.others, ids }
}

/** Unread cells belong to the sheet: a tape does not know of them. */
const isLine = ({ stint }: DayUnread): boolean => stint === null

/** Where a stint stands in its trip. */
type StintPlace = {
  readonly stop_id: string | null
  readonly ordinal: number | null
  readonly share_group: string | null
}
const placeColumns = ["stop_id", "ordinal", "share_group"] as const

const NewStint = entities.stint.omit({ id: true, created_at: true, updated_at: true, deleted_at: true })

/** Writes the cells of a row that differ from what stands. Returns whether any did. */
function patch(change: OpenChange, entity: Entity, id: string, cells: object): boolean {
  if (Object.keys(cells).length === 0) return false
  const row = rowById(change.db, entity, id)
  if (row === null) throw new Error(`no ${entity} ${id}`)
  const standing = new Map<string, unknown>(Object.entries(row))
  const differs = Object.entries(cells).some(([column, value]) => standing.get(column) !== value)
  if (differs) put(change, entity, entities[entity].parse({ ...row, ...cells }))
  return differs
}

type OrdinalOf = (id: string | null) => number | null

/** The order of the trip's rows as stored. */
function ordinalsIn(change: OpenChange, trip: string): OrdinalOf {
  const ordinals = dayOrdinals(change.db, trip)
  return (id) => (id === null ? null : (ordinals.get(id) ?? null))
}

/** The number a row is given, where it is not the one it has. */
const moved = (was: number | null, is: number): { ordinal?: number } => (was === is ? {} : { ordinal: is })

/** Numbers in ascending order that keep those given wherever they are: a row in between moves as few others as can be. */
function ascending(given: readonly (number | null)[]): number[] {
  let last = -1
  return given.map((ordinal) => {
    last = ordinal !== null && ordinal > last ? ordinal : last + 1
    return last
  })
}

const stintColumns = [
  "angler_id",
  "presentation_id",
  "start_at",
  "start_about",
  "end_at",
  "break_minutes",
  "rods",
  "sight",
  "fished_depth_m",
  "actions_per_cycle",
  "pause_s",
  "pace",
  "rhythm",
  "line",
  "water_column",
  "bait",
  "counted_misses",
  "counted_losses",
  "counted_follows",
  "counted_hang_ups",
  "counted_landed",
  "follows",
  "hang_ups",
  "lures_lost",
  "why_changed",
  "notes",
] as const

/** What of a stint differs; its effort goes with its clocks. */
function stintPatch(before: DayStint, after: DayStint): Partial<DayStint> {
  const cells: Partial<DayStint> = differing(before, after, stintColumns)
  const timed = "start_at" in cells || "end_at" in cells || "break_minutes" in cells
  const effort =
    before.effort_minutes !== after.effort_minutes || before.effort_source !== after.effort_source
  if (timed || effort)
    return { ...cells, effort_minutes: after.effort_minutes, effort_source: after.effort_source }
  return cells
}

function differing<T extends object, K extends keyof T>(
  before: T,
  after: T,
  columns: readonly K[],
): { [C in K]?: T[C] } {
  const cells: { [C in K]?: T[C] } = {}
  for (const column of columns) if (before[column] !== after[column]) cells[column] = after[column]
  return cells
}

type Days = { readonly before: TapeDay; readonly after: TapeDay }

const stopColumns = [
  "spot_id",
  "label",
  "start_at",
  "end_at",
  "platform",
  "ground",
  "structure",
  "why_left",
] as const

/** Writes the stops; gives the stored id of each. */
function putStops(
  change: OpenChange,
  trip: string,
  { before, after, stintOf }: Days & { readonly stintOf: readonly number[] },
  ordinalOf: OrdinalOf,
  count: { others: number },
): string[] {
  const found = matchStops({ before, after, stintOf })
  const ordinals = ascending(found.map((at) => ordinalOf(before.stops[at]?.id ?? null)))
  return after.stops.map((stop, j) => {
    const old = before.stops[found[j] ?? -1]
    const ordinal = ordinals[j] ?? j
    if (old?.id == null) {
      const { id: _, ...cells } = stop
      return add(change, "stop", { ...cells, trip_id: trip, ordinal })
    }
    const cells = { ...differing(old, stop, stopColumns), ...moved(ordinalOf(old.id), ordinal) }
    if (patch(change, "stop", old.id, cells)) count.others += 1
    return old.id
  })
}

/** Which stored stop each wanted one is: by its id, where its stints are, or by its spot. */
function matchStops({ before, after, stintOf }: Days & { readonly stintOf: readonly number[] }): number[] {
  const taken = new Set<number>()
  const take = (at: number): number => {
    if (at >= 0) taken.add(at)
    return at
  }
  const free = (test: (stop: DayStop, at: number) => boolean): number =>
    before.stops.findIndex((stop, at) => !taken.has(at) && test(stop, at))
  const homes = after.stops.map((_, index) =>
    after.stints.flatMap(({ stop }, j) => {
      const at = stintOf[j] ?? -1
      const home = before.stints[at]?.stop
      return stop === index && home !== undefined ? [home] : []
    }),
  )
  const found = after.stops.map(({ id }) => take(id === null ? -1 : free((stop) => stop.id === id)))
  const pass = (test: (stop: DayStop, at: number, j: number) => boolean): void => {
    for (const [j, at] of found.entries()) if (at < 0) found[j] = take(free((stop, i) => test(stop, i, j)))
  }
  pass((stop, at, j) => stopKey(stop) === stopKey(after.stops[j]) && (homes[j]?.includes(at) ?? false))
  pass((stop, _, j) => stopKey(stop) === stopKey(after.stops[j]))
  pass((_, at, j) => homes[j]?.includes(at) ?? false)
  return found
}

/** The stored name of each group that shares an effort: the old one where a stint of it had one. */
function groupIds(
  names: ReadonlyMap<string | null, string | null>,
  before: TapeDay,
  after: TapeDay,
  stintOf: readonly number[],
): Map<string, string> {
  const ids = new Map<string, string>()
  const used = new Set<string>()
  for (const [j, { share_group }] of after.stints.entries()) {
    if (share_group === null || ids.has(share_group)) continue
    const old = names.get(before.stints[stintOf[j] ?? -1]?.id ?? null) ?? null
    const name = old !== null && !used.has(old) ? old : newId()
    ids.set(share_group, name)
    used.add(name)
  }
  return ids
}

const strikeColumns = [
  "fate",
  "species_id",
  "at",
  "took_on",
  "length_mm",
  "weight_g",
  "kept",
  "hooked_where",
] as const

/** Makes a stint's strikes those wanted. Returns whether anything was changed. */
function putStrikes(change: OpenChange, before: DayStint, after: DayStint, ordinalOf: OrdinalOf): boolean {
  const keyOf = (strike: DayStrike): string => cellsKey({ ...strike, id: null })
  const found = align(
    before.strikes,
    after.strikes,
    ({ id }) => id,
    keyOf,
    (one, other) => one.fate === other.fate && one.species_id === other.species_id,
  )
  const ordinals = ascending(found.map((at) => ordinalOf(before.strikes[at]?.id ?? null)))
  let changed = false
  for (const [j, strike] of after.strikes.entries()) {
    const old = before.strikes[found[j] ?? -1]
    const ordinal = ordinals[j] ?? j
    if (old?.id == null) {
      const { id: _, ...cells } = strike
      add(change, "strike", { ...cells, stint_id: before.id ?? "", ordinal })
      changed = true
      continue
    }
    const cells = { ...differing(old, strike, strikeColumns), ...moved(ordinalOf(old.id), ordinal) }
    if (patch(change, "strike", old.id, cells)) changed = true
  }
  for (const [at, { id }] of before.strikes.entries())
    if (id !== null && !found.includes(at)) {
      removeById(change, "strike", id)
      changed = true
    }
  return changed
}

/** Makes the day's readings those wanted. */
function putReadings(
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

/** Makes what could not be read that wanted. Returns how many rows changed. */
function putUnread(
  change: OpenChange,
  trip: string,
  { before, after }: Days,
  stintIds: readonly string[],
): number {
  const found = align(
    before.unread,
    after.unread,
    ({ id }) => id,
    unreadKey,
    () => false,
  )
  let rows = 0
  for (const [j, { id: _, stint, ...cells }] of after.unread.entries()) {
    const old = before.unread[found[j] ?? -1]
    const stint_id = stint === null ? null : (stintIds[stint] ?? null)
    if (old?.id == null) {
      add(change, "unread", { ...cells, stint_id, trip_id: trip })
      rows += 1
    } else if (patch(change, "unread", old.id, { ...cells, stint_id })) rows += 1
  }
  for (const [at, { id }] of before.unread.entries())
    if (id !== null && !found.includes(at)) {
      removeById(change, "unread", id)
      rows += 1
    }
  return rows
}

/** Removes a stint with its strikes and its own readings. */
function removeStint(change: OpenChange, id: string): void {
  const ids = (sql: string): string[] => z.array(z.string()).parse(change.db.prepare(sql).pluck().all(id))
  for (const strike of ids("SELECT id FROM strike WHERE stint_id = ? AND deleted_at IS NULL"))
    removeById(change, "strike", strike)
  for (const reading of ids("SELECT id FROM observation WHERE stint_id = ? AND deleted_at IS NULL"))
    removeById(change, "observation", reading)
  removeById(change, "stint", id)
}

/**
 * The trip begins and ends with its stints where nothing else was said, and is closed when all of them are; not by the running
 * log, whose next stint may come.
 */
function putHead(
  change: OpenChange,
  trip: string,
  before: TapeDay,
  after: TapeDay,
  how: "tape" | "sheet" | "log",
): boolean {
  const row = rowById(change.db, "trip", trip)
  if (row === null) throw new Error(`no trip ${trip}`)
  const [old, now] = [spanOf(before), spanOf(after)]
  const start_at = row.start_at === null || row.start_at === old.start ? now.start : row.start_at
  const wanted = row.end_at === null || row.end_at === old.end ? now.end : row.end_at
  const end_at = wanted !== null && start_at !== null && wanted < start_at ? null : wanted
  const ended = after.stints.length > 0 && after.stints.every(isEnded) && after.unread.length === 0
  const status =
    row.status !== "closed" && ended && how !== "log"
      ? "closed"
      : row.status === "planned" && after.stints.length > 0
        ? "open"
        : row.status
  const recorded = row.recorded ?? (how === "log" ? "live" : null)
  return patch(change, "trip", trip, { start_at: start_at ?? row.start_at, end_at, status, recorded })
}

const isEnded = ({ start_at, end_at, effort_minutes }: DayStint): boolean =>
  end_at !== null || effort_minutes !== null || start_at === null

function spanOf({ stints }: TapeDay): { start: number | null; end: number | null } {
  const starts = stints.flatMap(({ start_at }) => start_at ?? [])
  const ends = stints.flatMap(({ end_at }) => end_at ?? [])
  const whole = stints.length > 0 && stints.every(isEnded)
  return {
    start: starts.length === 0 ? null : Math.min(...starts),
    end: ends.length === 0 || !whole ? null : Math.max(...ends),
  }
}

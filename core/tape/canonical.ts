import type { DayReading, DayStint, DayStop, DayStrike, DayUnread } from "../../shared/day.ts"
import { settled } from "./amount.ts"
import type { TapeDay } from "./reader.ts"

/**
 * A day as its tape says it, whatever the rows it came from said twice or to more digits: stops in the order in which they
 * are come to, efforts that follow from clocks left to them, zeros of what was counted left out. Two days are the same where
 * their canonical forms are.
 */
export function canonicalDay(day: TapeDay): TapeDay {
  const order = stopOrder(day)
  const place = new Map(order.map((stop, at) => [stop, at]))
  const at = (stop: number): number => place.get(stop) ?? 0
  const groups = sharedGroups(day.stints)
  return {
    stops: order.flatMap((index) => {
      const stop = day.stops[index]
      return stop === undefined ? [] : [canonicalStop(stop)]
    }),
    stints: day.stints.map((stint) => ({ ...canonicalStint(stint, groups), stop: at(stint.stop) })),
    readings: day.readings
      .map((reading) => ({
        ...reading,
        at: seconds(reading.at),
        stop: reading.stint === null && reading.stop !== null ? at(reading.stop) : null,
        ...settledCells(reading),
      }))
      .toSorted(byTime),
    unread: day.unread,
  }
}

/** Stops as they are first fished, those without a stint before the one that comes after them. */
function stopOrder({ stops, stints }: TapeDay): number[] {
  const used = new Set(stints.map(({ stop }) => stop))
  const order: number[] = []
  const take = (stop: number): void => {
    if (order.includes(stop)) return
    for (let before = 0; before < stop; before++)
      if (!used.has(before) && !order.includes(before)) order.push(before)
    order.push(stop)
  }
  for (const { stop } of stints) take(stop)
  for (const stop of stops.keys()) take(stop)
  return order
}

const seconds = (at: number | null): number | null => (at === null ? null : Math.round(at / 1000) * 1000)

const canonicalStop = (stop: DayStop): DayStop => ({
  ...stop,
  start_at: seconds(stop.start_at),
  end_at: seconds(stop.end_at),
})

type Groups = ReadonlyMap<string, { readonly name: string; readonly stints: number }>

/** Groups that really share, numbered as they come. */
function sharedGroups(stints: readonly DayStint[]): Groups {
  const groups = Map.groupBy(
    stints.filter(({ share_group }) => share_group !== null),
    ({ share_group }) => share_group ?? "",
  )
  return new Map(
    [...groups]
      .filter(([, of]) => of.length > 1)
      .map(([key, of], i) => [key, { name: String(i + 1), stints: of.length }]),
  )
}

const minuteMs = 60_000
const close = 1e-6

function canonicalStint(stint: DayStint, groups: Groups): DayStint {
  const group = stint.share_group === null ? undefined : groups.get(stint.share_group)
  const start_at = seconds(stint.start_at)
  const end_at = seconds(stint.end_at)
  const span = start_at === null || end_at === null ? null : (end_at - start_at) / minuteMs
  const unclocked = start_at === null || (span !== null && (stint.break_minutes ?? 0) >= span)
  const rest = unclocked ? null : positive(stint.break_minutes)
  const room = span === null ? null : span - (rest ?? 0)
  const effort = effortOf(stint.effort_minutes, room, group?.stints ?? null)
  return {
    ...stint,
    start_at,
    end_at,
    start_about: stint.start_about === 1 && start_at !== null ? 1 : null,
    break_minutes: rest,
    effort_minutes: effort,
    effort_source: sourceOf(stint, effort, group !== undefined),
    share_group: group?.name ?? null,
    follows: positive(stint.follows),
    hang_ups: positive(stint.hang_ups),
    lures_lost: positive(stint.lures_lost),
    fished_depth_m: settledOr(stint.fished_depth_m),
    actions_per_cycle: settledOr(stint.actions_per_cycle),
    pause_s: settledOr(stint.pause_s),
    notes: stint.notes === null ? null : stint.notes.replaceAll(/\r\n?/g, "\n"),
    strikes: stint.strikes.map(canonicalStrike),
  }
}

const positive = (count: number | null): number | null =>
  count === null || count === 0 ? null : settled(count)
const settledOr = (value: number | null): number | null => (value === null ? null : settled(value))

/** Minutes that do not follow from the clocks; those of a shared effort are always said. */
function effortOf(minutes: number | null, room: number | null, shared: number | null): number | null {
  if (shared !== null) {
    const even = room === null ? null : settled(room / shared)
    return minutes === null || (room !== null && minutes > room + close) ? even : settled(minutes)
  }
  if (minutes === null || (room !== null && minutes > room - close)) return null
  return settled(minutes)
}

function sourceOf(stint: DayStint, effort: number | null, shares: boolean): DayStint["effort_source"] {
  if (shares) return "shared"
  if (stint.effort_source === "ticked") return "ticked"
  if (effort !== null) return "given"
  return stint.start_at === null ? null : "clocked"
}

function canonicalStrike(strike: DayStrike): DayStrike {
  const landed = strike.fate === "landed"
  return {
    ...strike,
    at: seconds(strike.at),
    length_mm: landed ? settledOr(strike.length_mm) : null,
    weight_g: landed && strike.weight_g !== null ? Number(strike.weight_g.toFixed(3)) : null,
    kept: landed ? strike.kept : null,
  }
}

type Cells = Pick<
  DayReading,
  | "water_temp_c"
  | "secchi_cm"
  | "salinity_psu"
  | "water_depth_m"
  | "wind_speed_ms"
  | "wind_dir_deg"
  | "cloud_okta"
  | "barometer_hpa"
  | "barometer_3h_hpa"
>

const settledCells = (reading: DayReading): Cells => ({
  water_temp_c: settledOr(reading.water_temp_c),
  secchi_cm: settledOr(reading.secchi_cm),
  salinity_psu: settledOr(reading.salinity_psu),
  water_depth_m: settledOr(reading.water_depth_m),
  wind_speed_ms: settledOr(reading.wind_speed_ms),
  wind_dir_deg: settledOr(reading.wind_dir_deg),
  cloud_okta: settledOr(reading.cloud_okta),
  barometer_hpa: settledOr(reading.barometer_hpa),
  barometer_3h_hpa: settledOr(reading.barometer_3h_hpa),
})

const byTime = (a: DayReading, b: DayReading): number =>
  (a.at ?? -Infinity) - (b.at ?? -Infinity) || compare(cellsOf(a), cellsOf(b))

const cellsOf = (reading: DayReading): string => cellsKey({ ...reading, id: null })

/** A row as one text, the same for the same cells in whatever order they stand. */
export const cellsKey = (cells: object): string =>
  JSON.stringify(Object.entries(cells).toSorted(([a], [b]) => compare(a, b)))

const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)

/** A day without the ids of its rows, to be compared with another. */
export const withoutIds = ({ stops, stints, readings, unread }: TapeDay): TapeDay => ({
  stops: stops.map((stop) => ({ ...stop, id: null })),
  stints: stints.map((stint) => ({
    ...stint,
    id: null,
    strikes: stint.strikes.map((strike) => ({ ...strike, id: null })),
  })),
  readings: readings.map((reading) => ({ ...reading, id: null })),
  unread: unread.map((line: DayUnread) => ({ ...line, id: null })),
})

/** Whether two canonical days say the same. */
export const sameDay = (a: TapeDay, b: TapeDay): boolean => {
  const text = (day: TapeDay): string => JSON.stringify(withoutIds(day), sortedKeys)
  return text(a) === text(b)
}

const sortedKeys = (_: string, value: unknown): unknown =>
  typeof value === "object" && value !== null && !Array.isArray(value)
    ? Object.fromEntries(Object.entries(value).toSorted(([x], [y]) => compare(x, y)))
    : value

import { Temporal } from "temporal-polyfill"
import { factorIds, factorOf, type FactorId } from "../../../shared/factors.ts"
import { observationSources } from "../../../shared/vocabulary.ts"
import type { ViewRow } from "../../store/read/exportRows.ts"

export type Cell = string | number | null
/** A table with its header, cells as numbers and text. */
export type Table = {
  readonly name: string
  readonly head: readonly string[]
  readonly rows: readonly Cell[][]
}

const text = (row: ViewRow, column: string): string | null => {
  const value = row[column] ?? null
  return value === null ? null : String(value)
}
const at = (row: ViewRow, column: string, zone: string): string | null => {
  const instant = row[column]
  if (typeof instant !== "number") return null
  return Temporal.Instant.fromEpochMilliseconds(instant)
    .toZonedDateTimeISO(zone)
    .toString({ timeZoneName: "never" })
}

/** Factors that are columns of their own in the record, and those that follow from the rest. */
const named = new Set<string>(["rods", "angler", "spot"])
const recorded = factorIds.filter((id) => !named.has(id) && factorOf(id).home !== "derived")

const said = [
  "trip",
  "stop",
  "stint",
  "date",
  "start",
  "end",
  "minutes",
  "zone",
  "target",
  "completeness",
  "rods",
  "angler",
  "spot",
  "strikes",
  "hook_ups",
  "landed",
  "follows",
  "hang_ups",
  "lures_lost",
  "notes",
] as const
const place = ["lat", "lon", "station"] as const

/**
 * The record as the plain stints table that an import reads: what people and files said, and imported conditions. What
 * was worked out is left out, since it is worked out again. Places only with `coordinates`.
 */
export function stintsTable(stints: readonly ViewRow[], coordinates: boolean): Table {
  const sizes = new Map<string, number>()
  for (const row of stints) {
    const trip = String(row["trip_id"])
    sizes.set(trip, (sizes.get(trip) ?? 0) + 1)
  }
  const labels = tripLabels(stints, sizes)
  const placed = coordinates ? place : []
  return {
    name: "stints",
    head: [...said, ...placed, ...recorded],
    rows: stints.map((row, i) => {
      const zone = text(row, "trip_zone") ?? "UTC"
      const clocked = row["effort_source"] === "clocked" && row["start_at"] !== null && row["end_at"] !== null
      const own: Record<string, Cell> = {
        trip: labels.get(String(row["trip_id"])) ?? null,
        stop:
          sizes.get(String(row["trip_id"])) === 1
            ? text(row, "stop_label")
            : (text(row, "stop_label") ?? String(Number(row["stop_ordinal"]) + 1)),
        stint: String(i + 1),
        date: text(row, "trip_date"),
        start: at(row, "start_at", zone),
        end: at(row, "end_at", zone),
        minutes: clocked ? null : (row["effort_minutes"] ?? null),
        zone,
      }
      return [
        ...[...said, ...placed].map(
          (column) => own[column] ?? (column in own ? null : (row[column] ?? null)),
        ),
        ...recorded.map((id) => (isWorkedOut(row, id) ? null : (row[id] ?? null))),
      ]
    }),
  }
}

/** Whether a value follows from others: worked out from place and time, or carried from a reading at another time. */
function isWorkedOut(row: ViewRow, id: FactorId): boolean {
  const source = text(row, `${id}_source`)
  const { home } = factorOf(id)
  if (home === "computed") return source !== "imported"
  return home === "observation" && source !== null && !observationSources.some((word) => word === source)
}

/**
 * A name for each trip that needs one to keep its stints together: its own label, made unique, or its date. A trip of a
 * single stint without a label stays without.
 */
function tripLabels(
  stints: readonly ViewRow[],
  sizes: ReadonlyMap<string, number>,
): Map<string, string | null> {
  const labels = new Map<string, string | null>()
  const used = new Set<string>()
  for (const row of stints) {
    const trip = String(row["trip_id"])
    if (labels.has(trip)) continue
    const own = text(row, "trip_label")
    if (own === null && sizes.get(trip) === 1) {
      labels.set(trip, null)
      continue
    }
    const wanted = own ?? text(row, "trip_date") ?? "trip"
    let label = wanted
    for (let n = 2; used.has(label); n++) label = `${wanted} (${n})`
    used.add(label)
    labels.set(trip, label)
  }
  return labels
}

/** The strikes table that goes with the stints table: `stint` is the number of the row there. */
export function strikesTable(stints: readonly ViewRow[], strikes: readonly ViewRow[]): Table {
  const numbers = new Map(stints.map((row, i) => [String(row["stint_id"]), i + 1]))
  const yes = (kept: Cell): Cell => (kept === null ? null : kept === 1 ? "yes" : "no")
  const rows = strikes
    .map((row) => ({ row, stint: numbers.get(String(row["stint_id"])) ?? 0 }))
    .toSorted((a, b) => a.stint - b.stint)
    .map(({ row, stint }): Cell[] => [
      String(stint),
      row["fate"] ?? null,
      row["species"] ?? null,
      row["length_mm"] ?? null,
      row["weight_g"] ?? null,
      yes(row["kept"] ?? null),
      at(row, "at", "UTC"),
      row["took_on"] ?? null,
    ])
  return {
    name: "strikes",
    head: ["stint", "fate", "species", "length_mm", "weight_g", "kept", "at", "took_on"],
    rows,
  }
}

const measured = ["rod_hours", "strikes", "hook_ups", "landed", "follows", "hang_ups", "lures_lost"] as const

/** One row a stint with its rod-hours, outcomes and every factor, worked-out ones too: for a statistics program. */
export function factsTable(stints: readonly ViewRow[]): Table {
  const number = counter()
  return {
    name: "facts",
    head: ["trip", "stop", "stint", "date", "completeness", ...measured, ...factorIds],
    rows: stints.map((row, i) => [
      number(`trip ${String(row["trip_id"])}`, "trip"),
      number(`stop ${String(row["stop_id"])}`, "stop"),
      i + 1,
      text(row, "trip_date"),
      text(row, "completeness"),
      ...measured.map((column) => row[column] ?? null),
      ...factorIds.map((id) => row[id] ?? null),
    ]),
  }
}

function counter(): (key: string, kind: string) => number {
  const seen = new Map<string, number>()
  const last = new Map<string, number>()
  return (key, kind) => {
    const known = seen.get(key)
    if (known !== undefined) return known
    const next = (last.get(kind) ?? 0) + 1
    last.set(kind, next)
    seen.set(key, next)
    return next
  }
}

import { completenesses, type Completeness, type TripGrouping } from "../../shared/vocabulary.ts"
import type { RowDraft } from "./draft.ts"
import type { StintRows } from "./stints.ts"

/** One visit to a spot with its stints in order. */
export type StopRows = { readonly label: string | null; readonly stints: readonly StintRows[] }

/** A trip as the rows of a table tell it. Instants in UTC ms. */
export type TripRows = {
  readonly label: string | null
  readonly grouping: TripGrouping
  readonly date: string
  readonly zone: string
  readonly start_at: number | null
  readonly end_at: number | null
  readonly completeness: Completeness
  readonly target: string | null
  readonly anglers: readonly string[]
  readonly stops: readonly StopRows[]
}

/**
 * Groups stints into trips: those of one `trip` label in a file; else, with `tripIs` "day", those of one date and
 * angler; else each on its own. Inside a trip stints are ordered by start, then line, and grouped into stops.
 */
export function groupTrips(stints: readonly StintRows[], tripIs: "row" | "day"): TripRows[] {
  const groups = new Map<string, { grouping: TripGrouping; stints: StintRows[] }>()
  for (const stint of stints) {
    const { key, grouping } = tripKey(stint.row, tripIs)
    const group = groups.get(key)
    if (group) group.stints.push(stint)
    else groups.set(key, { grouping, stints: [stint] })
  }
  return [...groups.values()].map(({ grouping, stints: members }) => tripOf(members, grouping))
}

function tripKey(row: RowDraft, tripIs: "row" | "day"): { key: string; grouping: TripGrouping } {
  if (row.trip !== null) return { key: JSON.stringify(["said", row.file, row.trip]), grouping: "said" }
  if (tripIs === "day") return { key: JSON.stringify(["day", row.date, row.angler]), grouping: "day" }
  return { key: JSON.stringify(["row", row.file, row.hash]), grouping: "row" }
}

function tripOf(members: readonly StintRows[], grouping: TripGrouping): TripRows {
  const stints = inOrder(members)
  const rows = stints.map((stint) => stint.row)
  const first = rows[0]
  if (first === undefined) throw new Error("a trip without stints")
  const starts = rows.flatMap((row) => row.start_at ?? [])
  const ends = rows.flatMap((row) => row.end_at ?? [])
  return {
    label: first.trip,
    grouping,
    date: starts.length > 0 ? first.date : rows.map((row) => row.date).reduce((a, b) => (b < a ? b : a)),
    zone: first.zone,
    start_at: starts.length > 0 ? Math.min(...starts) : null,
    end_at: starts.length > 0 && ends.length > 0 ? Math.max(...ends) : null,
    completeness: leastComplete(rows),
    target: rows.find((row) => row.target !== null)?.target ?? null,
    anglers: [...new Set(rows.flatMap((row) => row.angler ?? []))],
    stops: groupStops(stints),
  }
}

/** By start, then line; by line alone where a stint of the trip has no start. */
function inOrder(stints: readonly StintRows[]): StintRows[] {
  const timed = stints.every((stint) => stint.row.start_at !== null)
  return stints.toSorted((a, b) => {
    const byStart = timed ? (a.row.start_at ?? 0) - (b.row.start_at ?? 0) : 0
    return byStart === 0 ? a.row.line - b.row.line : byStart
  })
}

const leastComplete = (rows: readonly RowDraft[]): Completeness =>
  completenesses[Math.max(...rows.map((row) => completenesses.indexOf(row.completeness)))] ?? "complete"

/**
 * A stop begins when an angler's spot changes (or what it was fished from, or its ground); stints at one spot that
 * overlap share a stop; a stint without a spot is a stop of its own. A `stop` label overrules all of this.
 */
function groupStops(stints: readonly StintRows[]): StopRows[] {
  const stopOf = new Map<StintRows, StintRows[]>()
  const labelled = new Map<string, StintRows[]>()
  const lanes = new Map<string | null, StintRows>()
  for (const stint of stints) {
    const { row } = stint
    const before = lanes.get(row.angler)
    lanes.set(row.angler, stint)
    const group =
      row.stop !== null
        ? labelled.get(row.stop)
        : before !== undefined && samePlace(before.row, row)
          ? stopOf.get(before)
          : undefined
    const stop = group ?? []
    stop.push(stint)
    stopOf.set(stint, stop)
    if (row.stop !== null) labelled.set(row.stop, stop)
  }
  joinOverlapping(stints, stopOf)
  return [...new Set(stints.map((stint) => stopOf.get(stint) ?? [stint]))].map((members) => ({
    label: members[0]?.row.stop ?? null,
    stints: inOrder(members),
  }))
}

const placeOf = (row: RowDraft): string | null =>
  row.spot === null
    ? null
    : JSON.stringify([
        row.spot.toLowerCase(),
        ...(["platform", "ground", "structure"] as const).map((id) => row.factors.get(id) ?? null),
      ])

const samePlace = (a: RowDraft, b: RowDraft): boolean =>
  a.stop === null && b.stop === null && a.spot !== null && placeOf(a) === placeOf(b)

function joinOverlapping(stints: readonly StintRows[], stopOf: Map<StintRows, StintRows[]>): void {
  const latest = new Map<string, StintRows>()
  for (const stint of stints) {
    const { start_at, end_at, stop } = stint.row
    const place = placeOf(stint.row)
    if (place === null || stop !== null || start_at === null || end_at === null) continue
    const other = latest.get(place)
    const mine = stopOf.get(stint)
    const theirs = other && stopOf.get(other)
    if (other?.row.end_at && other.row.end_at > start_at && mine && theirs && mine !== theirs) {
      theirs.push(...mine)
      for (const member of mine) stopOf.set(member, theirs)
    }
    if (other === undefined || (other.row.end_at ?? 0) < end_at) latest.set(place, stint)
  }
}

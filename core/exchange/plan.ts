import type { FactorId } from "../../shared/factors.ts"
import type { ImportPlanReport, ImportSettings } from "../../shared/imports.ts"
import { isFreeList } from "../store/read/names.ts"
import type { RowDraft, StrikeDraft, TablesRead } from "./draft.ts"
import { outcomesOf, type Counted, type Outcomes } from "./outcomes.ts"
import { joinRows, type Known, type StintRows } from "./stints.ts"
import { reportPlan } from "./planReport.ts"
import type { PlannedReading } from "./station/rows.ts"
import type { PlannedPresentation, Tackle } from "./tackle.ts"
import { groupTrips, type StopRows, type TripRows } from "./trips.ts"
import type { PlannedTrack } from "./track/planTracks.ts"
import type { WordLists } from "./words.ts"

export type PlannedStrike = Pick<
  StrikeDraft,
  "fate" | "species" | "length_mm" | "weight_g" | "kept" | "at" | "took_on"
>
export type PlannedStint = {
  readonly row: RowDraft
  readonly rows: readonly RowDraft[]
  readonly presentation: PlannedPresentation | null
  readonly factors: ReadonlyMap<FactorId, number | string>
  readonly strikes: readonly PlannedStrike[]
  readonly counted: TripCounted
}
export type PlannedStop = Omit<StopRows, "stints"> & {
  readonly spot: string | null
  readonly stints: readonly PlannedStint[]
}
/** What was being counted, flag by flag. */
export type TripCounted = Counted & { readonly follows: boolean; readonly hang_ups: boolean }
export type PlannedTrip = Omit<TripRows, "stops"> & {
  readonly stops: readonly PlannedStop[]
  /** Set where it holds in every stint of the trip. */
  readonly counted: TripCounted
}

/** Where a spot is, as far as any row of the tables says. Degrees north and east; a tide station's id. */
export type SpotPlace = {
  readonly lat: number | null
  readonly lon: number | null
  readonly station: string | null
}

/** All that an import will store, and the report of it that the user sees first. */
export type ImportPlan = {
  readonly trips: readonly PlannedTrip[]
  /** By the spot's name in lower case. */
  readonly places: ReadonlyMap<string, SpotPlace>
  /** From station files, for trips that are in the logbook already. */
  readonly readings: readonly PlannedReading[]
  readonly tracks: readonly PlannedTrack[]
  readonly report: ImportPlanReport
}

/** What of the logbook a plan needs to know. */
export type LogbookView = { readonly known: Known; readonly tackle: Tackle; readonly words: WordLists }

/** Joins rows read from tables into trips, stops, stints and strikes. Writes nothing. */
export function planImport(
  read: TablesRead,
  files: readonly string[],
  settings: ImportSettings,
  view: LogbookView,
): ImportPlan {
  const joined = joinRows(read.rows, view.known, settings.repeats)
  const strikesOf = strikesByStint(read)
  const trips = groupTrips(joined.stints, settings.trip_is).map((trip) =>
    planTrip(trip, (stint) => planStint(stint, strikesOf(stint), view), view.words),
  )
  return {
    trips,
    places: placesOf(read.rows),
    readings: [],
    tracks: [],
    report: reportPlan(read, files, settings, joined, trips, view),
  }
}

/** The first coordinates and the first station that any row gives for each spot. */
function placesOf(rows: readonly RowDraft[]): Map<string, SpotPlace> {
  const places = new Map<string, SpotPlace>()
  for (const { spot, lat, lon, station } of rows) {
    if (spot === null) continue
    const known = places.get(spot.toLowerCase())
    const placed = known !== undefined && known.lat !== null ? known : { lat, lon }
    places.set(spot.toLowerCase(), { lat: placed.lat, lon: placed.lon, station: known?.station ?? station })
  }
  return places
}

/** The strikes of a stint: those of the strikes table where there is one, which replaces the counts. */
function strikesByStint(
  read: TablesRead,
): (stint: StintRows) => { outcomes: Outcomes; strikes: PlannedStrike[] } {
  const blank = { length_mm: null, weight_g: null, kept: null, at: null, took_on: null }
  const fromCounts = (outcomes: Outcomes): PlannedStrike[] =>
    outcomes.strikes.flatMap(({ fate, species, times }) =>
      Array.from({ length: times }, () => ({ fate, species, ...blank })),
    )
  if (read.strikes === null)
    return (stint) => {
      const outcomes = outcomesOf(stint.counts)
      return { outcomes, strikes: fromCounts(outcomes) }
    }
  const listed = Map.groupBy(read.strikes, (strike) => strike.stint)
  const { strikes, hook_ups, landed } = read.count_columns
  const anyColumn = strikes || hook_ups || landed
  return (stint) => {
    const counted = anyColumn
      ? outcomesOf(stint.counts).counted
      : { misses: false, losses: false, landed: true }
    return {
      outcomes: { strikes: [], counted },
      strikes: [...new Set(stint.rows.map((row) => row.stint))].flatMap((name) => listed.get(name) ?? []),
    }
  }
}

const rowFlags = (row: RowDraft) => ({ follows: row.follows !== null, hang_ups: row.hang_ups !== null })

function planStint(
  stint: StintRows,
  told: { outcomes: Outcomes; strikes: readonly PlannedStrike[] },
  { tackle, words }: LogbookView,
): PlannedStint {
  const factors = new Map(
    [...stint.row.factors].map(([id, value]) => [
      id,
      typeof value === "string" && isFreeList(id) && id !== "presentation"
        ? words.canonical(id, value)
        : value,
    ]),
  )
  const strikes = told.strikes.map((strike) => ({
    ...strike,
    species: strike.species === null ? null : words.canonical("species", strike.species),
  }))
  return {
    row: stint.row,
    rows: stint.rows,
    presentation: tackle.presentationFor(factors),
    factors,
    strikes,
    counted: { ...told.outcomes.counted, ...rowFlags(stint.row) },
  }
}

const flags = ["misses", "losses", "landed", "follows", "hang_ups"] as const

function planTrip(trip: TripRows, plan: (stint: StintRows) => PlannedStint, words: WordLists): PlannedTrip {
  const stops = trip.stops.map(({ label, stints }) => {
    const spot = stints[0]?.row.spot ?? null
    return { label, spot: spot === null ? null : words.canonical("spot", spot), stints: stints.map(plan) }
  })
  const all = stops.flatMap((stop) => stop.stints)
  const every = (flag: (typeof flags)[number]) => all.every((stint) => stint.counted[flag])
  return {
    ...trip,
    anglers: trip.anglers.map((angler) => words.canonical("angler", angler)),
    target: trip.target === null ? null : words.canonical("species", trip.target),
    stops,
    counted: {
      misses: every("misses"),
      losses: every("losses"),
      landed: every("landed"),
      follows: every("follows"),
      hang_ups: every("hang_ups"),
    },
  }
}

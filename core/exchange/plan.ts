import { factorsAt, type FactorId } from "../../shared/factors.ts"
import type { ImportPlanReport, ImportSettings } from "../../shared/imports.ts"
import { isFreeList } from "../store/read/names.ts"
import type { RowDraft, StrikeDraft, TablesRead } from "./draft.ts"
import { outcomesOf, type Counted, type Outcomes } from "./outcomes.ts"
import { joinRows, type JoinedRows, type Known, type StintRows } from "./stints.ts"
import type { PlannedPresentation, Tackle } from "./tackle.ts"
import { groupTrips, type StopRows, type TripRows } from "./trips.ts"
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

/** All that an import will store, and the report of it that the user sees first. */
export type ImportPlan = {
  readonly trips: readonly PlannedTrip[]
  readonly presentations: readonly PlannedPresentation[]
  readonly report: ImportPlanReport
}

/** What of the logbook a plan needs to know. */
export type LogbookView = { readonly known: Known; readonly tackle: Tackle; readonly words: WordLists }

/** Joins rows read from tables into trips, stops, stints and strikes. Reads nothing and writes nothing. */
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
  const presentations = view.tackle.made()
  return { trips, presentations, report: reportOf(read, files, settings, joined, trips, view) }
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

function reportOf(
  read: TablesRead,
  files: readonly string[],
  settings: ImportSettings,
  joined: JoinedRows,
  trips: readonly PlannedTrip[],
  { tackle, words }: LogbookView,
): ImportPlanReport {
  const stints = trips.flatMap((trip) => trip.stops.flatMap((stop) => stop.stints))
  const landedIn = (some: readonly PlannedStint[]) =>
    some.reduce((sum, stint) => sum + stint.strikes.filter((strike) => strike.fate === "landed").length, 0)
  const added = words.added()
  const newWords = (list: string) => added.find((one) => one.factor === list)?.levels.length ?? 0
  return {
    files: [...files],
    records: read.records,
    creates: {
      trips: trips.length,
      stops: trips.reduce((sum, trip) => sum + trip.stops.length, 0),
      stints: stints.length,
      strikes: stints.reduce((sum, stint) => sum + stint.strikes.length, 0),
      anglers: newWords("angler"),
      spots: newWords("spot"),
      species: newWords("species"),
      lure_classes: newWords("lure_class"),
      presentations: tackle.made().length,
    },
    rod_hours: stints.reduce((sum, { row }) => sum + ((row.effort_minutes ?? 0) * row.rods) / 60, 0),
    landed: landedIn(stints),
    blank_trips: trips.filter(
      (trip) => trip.counted.landed && landedIn(trip.stops.flatMap((stop) => stop.stints)) === 0,
    ).length,
    columns: read.columns.map((column) => ({ ...column })),
    refused: read.refusals.map((refusal) => ({ ...refusal })),
    refused_rows: new Set(read.refusals.map(({ file, line }) => `${file}\n${line}`)).size,
    already_there: joined.already_there.map((row) => ({ ...row })),
    conflicts: joined.conflicts.map((conflict) => ({ ...conflict, values: [...conflict.values] })),
    new_levels: added,
    ignored_lines: read.ignored_lines.map((line) => ({ ...line })),
    assumptions: [...read.assumptions, ...assumptionsOf(read, stints)],
    cautions: cautionsOf(settings, joined, trips),
  }
}

function assumptionsOf(read: TablesRead, stints: readonly PlannedStint[]): string[] {
  const said: string[] = []
  const columns = read.count_columns
  if (read.strikes !== null && !columns.strikes && !columns.hook_ups && !columns.landed)
    said.push(
      "The stints table has no count columns: the strikes table is taken to list every fish landed; " +
        "whether misses and losses were counted is not known.",
    )
  const homeless = stints.filter(({ row }) => row.station !== null && row.spot === null).length
  if (homeless > 0) said.push(`${homeless} rows name a station but no spot to keep it with; it was not kept.`)
  const known = new Set<FactorId>(factorsAt("derived"))
  const derived = read.columns.filter(
    ({ target }) => target !== null && [...known].some((id) => id === target),
  )
  if (derived.length > 0)
    said.push(
      `${derived.map(({ column }) => column).join(", ")}: follows from the date or the stop, not read.`,
    )
  return said
}

const rowsThat = (n: number, one: string, many: string): string =>
  n === 1 ? `1 row ${one}` : `${n} rows ${many}`

function cautionsOf(
  settings: ImportSettings,
  joined: JoinedRows,
  trips: readonly PlannedTrip[],
): { code: string; text: string }[] {
  const cautions: { code: string; text: string }[] = []
  const alone = trips.filter((trip) => trip.grouping === "row").length
  if (alone > 0)
    cautions.push({
      code: "row_is_trip",
      text:
        `The table does not say which rows are one trip: ${alone} rows were taken as ${alone} trips. Rows of one ` +
        `outing share their luck, so intervals may come out too narrow. A trip column, or --trip-is day, mends it.`,
    })
  if (settings.trip_is === "day" && trips.some((trip) => trip.grouping === "day"))
    cautions.push({ code: "day_is_trip", text: "Rows of one date and angler were taken as one trip." })
  const repeated = joined.already_there.filter((row) => row.of_line !== null).length
  if (repeated > 0)
    cautions.push({
      code: "repeated_rows",
      text:
        `${rowsThat(repeated, "repeats", "repeat")} an earlier row of the file: counted as already there. ` +
        `Stints of their own want times, or an import with --repeats separate.`,
    })
  if (joined.alike.length > 0)
    cautions.push({
      code: "alike_rows",
      text:
        `${rowsThat(joined.alike.length, "differs", "differ")} from an earlier one in counts only (line ` +
        `${joined.alike.slice(0, 5).join(", ")}), and nothing tells whether they are the same stint: taken as their own.`,
    })
  if (joined.conflicts.length > 0)
    cautions.push({
      code: "conflicts",
      text:
        `${rowsThat(joined.conflicts.length, "tells", "tell")} another count for a stint already told, and nothing ` +
        `of it was taken. Mend the table, or import with --repeats separate where these are stints of their own.`,
    })
  return cautions
}

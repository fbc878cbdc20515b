import type { ImportPlanReport, ImportSettings } from "../../shared/imports.ts"
import type { TablesRead } from "./draft.ts"
import type { LogbookView, PlannedStint, PlannedTrip } from "./plan.ts"
import type { JoinedRows } from "./stints.ts"

/** What an import will store, and all that the user should know of it before, in figures and sentences. */
export function reportPlan(
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
    readings: { adds: 0, trips: 0, already_there: 0, files: [] },
    tracks: { adds: 0, already_there: 0, files: [] },
    new_levels: added,
    ignored_lines: read.ignored_lines.map((line) => ({ ...line })),
    remembered: [],
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
        `outing share their luck, so intervals may come out too narrow. A trip column, or taking the rows of a day together (--trip-is day), mends it.`,
    })
  if (settings.trip_is === "day" && trips.some((trip) => trip.grouping === "day"))
    cautions.push({ code: "day_is_trip", text: "Rows of one date and angler were taken as one trip." })
  const repeated = joined.already_there.filter((row) => row.of_line !== null).length
  if (repeated > 0)
    cautions.push({
      code: "repeated_rows",
      text:
        `${rowsThat(repeated, "repeats", "repeat")} an earlier row of the file: counted as already there. ` +
        `Stints of their own want times, or an import that keeps repeats (--repeats separate).`,
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
        `of it was taken. Mend the table, or keep repeats (--repeats separate) where these are stints of their own.`,
    })
  return cautions
}

import type { CallContext, Handlers, Parsed } from "../../shared/api.ts"
import {
  addsNothing,
  type ImportDone,
  type ImportPlanReport,
  type ImportSettings,
} from "../../shared/imports.ts"
import { ProblemError } from "../../shared/problems.ts"
import { commitImport } from "../exchange/commit.ts"
import type { TableSource } from "../exchange/draft.ts"
import { planImport, type ImportPlan } from "../exchange/plan.ts"
import { mappedHeaders, mappingsFor } from "../exchange/read/headerPrint.ts"
import { readTables } from "../exchange/read/readTables.ts"
import { withReadings } from "../exchange/station/planReadings.ts"
import { reachOf } from "../exchange/station/reach.ts"
import { readStations } from "../exchange/station/readStations.ts"
import { partSources } from "../exchange/partSources.ts"
import { takeBackImport } from "../exchange/takeBack.ts"
import { Tackle } from "../exchange/tackle.ts"
import { withTracks } from "../exchange/track/planTracks.ts"
import { readTracks } from "../exchange/track/readTracks.ts"
import { WordLists } from "../exchange/words.ts"
import { toCsv } from "../exchange/write/csv.ts"
import { refusedTables } from "../exchange/write/refusedRows.ts"
import { backUpFile } from "../store/backup.ts"
import type { Logbook } from "../store/logbook.ts"
import { knownRows } from "../store/read/imports.ts"
import { settingOf, spotZones, wordsOf } from "../store/read/names.ts"
import { presentationParts } from "../store/read/presentations.ts"
import { stationReadings } from "../store/read/stationReadings.ts"
import { tripTimes } from "../store/read/tripTimes.ts"
import { trackPoints } from "../store/read/tracks.ts"
import { mapsKept, rememberMaps } from "./importMaps.ts"
import type { Queue } from "./queue.ts"
import { tripSharing } from "./tripOfTrack.ts"
import type { Uploads } from "./uploads.ts"

type Area = Pick<Handlers, "import.preview" | "import.commit" | "import.refused" | "import.take_back">

/** Tables in, and out again. `change` is the queue for acts that change the logbook. */
export const importHandlers = (book: Logbook, queue: Queue, change: Queue, uploads: Uploads): Area => {
  const sourceOf = (file: Incoming): TableSource =>
    "upload" in file ? uploads.source(file.upload) : inOnePiece(file)
  return {
    "import.preview": ({ files, settings }, context) =>
      queue(async () => previewImport(book, files.map(sourceOf), settings, context)),
    "import.commit": ({ files, settings }, context) =>
      change(async () => {
        const done = await runImport(book, files.map(sourceOf), settings, context)
        for (const file of files) if ("upload" in file) uploads.drop(file.upload)
        return done
      }),
    "import.refused": ({ files, settings }, context) =>
      queue(async () => {
        const sources = files.map(sourceOf)
        const { report, map } = await plan(book, sources, settings, context)
        const tables = await refusedTables(sources, map, report.refused, context.signal)
        return { files: tables.map((table) => ({ name: `${table.name}.csv`, bytes: toCsv(table) })) }
      }),
    "import.take_back": ({ batch, edited_too }) =>
      change(async () => book.change((open) => takeBackImport(open, batch, edited_too))),
  }
}

type Incoming = Parsed<"import.preview">["files"][number]

/** What an import of these tables would do. Nothing is written. */
export async function previewImport(
  book: Logbook,
  sources: readonly TableSource[],
  settings: ImportSettings,
  context: CallContext,
): Promise<ImportPlanReport> {
  return (await plan(book, sources, settings, context)).report
}

/**
 * Imports tables in one transaction, after a backup. Throws a ProblemError and stores nothing when a table cannot be
 * read, when rows are refused and the settings say all or nothing, or when cancelled.
 */
export async function runImport(
  book: Logbook,
  sources: readonly TableSource[],
  settings: ImportSettings,
  context: CallContext,
): Promise<ImportDone> {
  book.requireWritable()
  const planned = await plan(book, sources, settings, context)
  const { report, map } = planned
  if (settings.all_or_nothing && report.refused_rows > 0)
    throw new ProblemError(
      "rows_refused",
      `${report.refused_rows} of ${report.records} rows cannot be taken, so nothing was. Mend them, or import the rest.`,
      { refused: report.refused },
    )
  if (addsNothing(report)) return { ...report, batch: null }
  const headers =
    settings.map.length === 0
      ? []
      : await mappedHeaders((await partSources(sources)).tables, settings.map, context.signal)
  await backUpFile(book.file, "before-import")
  const batch = await book.longChange(async (change) => {
    const made = await commitImport(change, planned, { ...settings, map: [...map] }, context)
    rememberMaps(change, headers)
    return made
  })
  return { ...report, batch }
}

async function plan(
  book: Logbook,
  sources: readonly TableSource[],
  settings: ImportSettings,
  context: CallContext,
): Promise<ImportPlan & { readonly map: readonly string[] }> {
  const known = book.read((db) => ({
    spot_zones: spotZones(db),
    home_zone: settingOf(db, "home_zone"),
    presentations: presentationParts(db),
  }))
  const { tables, stations, tracks } = await partSources(sources)
  const remembered =
    settings.map.length > 0 ? [] : await mappingsFor(tables, book.read(mapsKept), context.signal)
  const map = settings.map.length > 0 ? settings.map : remembered
  const read = await readTables(
    tables,
    {
      map,
      zone: settings.zone,
      spot_zones: known.spot_zones,
      home_zone: known.home_zone,
      now: Date.now(),
    },
    context,
  )
  const files = await readStations(
    stations,
    { zone: settings.zone, units: settings.station_units, now: Date.now() },
    reachOf(stations.length === 0 ? [] : book.read(tripTimes)),
    context.signal,
  )
  const trackFiles = await readTracks(tracks, Date.now(), context.signal)
  return book.read((db) => {
    const plan = planImport(
      read,
      sources.map((source) => source.name),
      settings,
      {
        known: knownRows(db),
        tackle: new Tackle(known.presentations),
        words: new WordLists((list) => wordsOf(db, list)),
      },
    )
    const trips = trackFiles.length === 0 ? [] : tripTimes(db)
    const whole = withTracks(
      withReadings(plan, files, files.length === 0 ? [] : stationReadings(db)),
      trackFiles,
      trackFiles.length === 0 ? new Set() : trackPoints(db),
      (span) => tripSharing(trips, span)?.date ?? null,
    )
    return { ...whole, map, report: { ...whole.report, ...sayRemembered(whole.report, remembered) } }
  })
}

const sayRemembered = ({ assumptions }: ImportPlanReport, remembered: string[]) => ({
  remembered,
  assumptions:
    remembered.length === 0
      ? assumptions
      : [
          `Columns are taken as at the last import of a table with the same header: ${remembered.map((text) => `"${text}"`).join(", ")}. Mappings of your own replace all of these.`,
          ...assumptions,
        ],
})

const inOnePiece = ({ name, bytes }: { name: string; bytes: Uint8Array }): TableSource => ({
  name,
  size: bytes.length,
  bytes: async function* () {
    yield bytes
  },
})

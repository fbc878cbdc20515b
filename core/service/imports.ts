import type { CallContext, Handlers } from "../../shared/api.ts"
import type { ImportDone, ImportPlanReport, ImportSettings } from "../../shared/imports.ts"
import { ProblemError } from "../../shared/problems.ts"
import { commitImport } from "../exchange/commit.ts"
import type { TableSource } from "../exchange/draft.ts"
import { planImport, type ImportPlan } from "../exchange/plan.ts"
import { readTables } from "../exchange/read/readTables.ts"
import { withReadings } from "../exchange/station/planReadings.ts"
import { reachOf } from "../exchange/station/reach.ts"
import { partSources, readStations } from "../exchange/station/readStations.ts"
import { takeBackImport } from "../exchange/takeBack.ts"
import { Tackle } from "../exchange/tackle.ts"
import { WordLists } from "../exchange/words.ts"
import { backUpFile } from "../store/backup.ts"
import type { Logbook } from "../store/logbook.ts"
import { knownRows } from "../store/read/imports.ts"
import { settingOf, spotZones, wordsOf } from "../store/read/names.ts"
import { presentationParts } from "../store/read/presentations.ts"
import { stationReadings, tripTimes } from "../store/read/stationReadings.ts"
import type { Queue } from "./queue.ts"

type Area = Pick<Handlers, "import.preview" | "import.commit" | "import.take_back">

/** Tables in, and out again. `change` is the queue for acts that change the logbook. */
export const importHandlers = (book: Logbook, queue: Queue, change: Queue): Area => ({
  "import.preview": ({ files, settings }, context) =>
    queue(() => previewImport(book, files.map(sourceOf), settings, context)),
  "import.commit": ({ files, settings }, context) =>
    change(() => runImport(book, files.map(sourceOf), settings, context)),
  "import.take_back": ({ batch, edited_too }) =>
    change(async () => book.change((open) => takeBackImport(open, batch, edited_too))),
})

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
  const { report } = planned
  if (settings.all_or_nothing && report.refused_rows > 0)
    throw new ProblemError(
      "rows_refused",
      `${report.refused_rows} of ${report.records} rows cannot be taken, so nothing was. Mend them, or import the rest.`,
      { refused: report.refused },
    )
  if (report.creates.stints === 0 && report.readings.adds === 0) return { ...report, batch: null }
  await backUpFile(book.file, "before-import")
  const batch = await book.longChange(async (change) => {
    const made = await commitImport(change, planned, settings, context)
    return made
  })
  return { ...report, batch }
}

async function plan(
  book: Logbook,
  sources: readonly TableSource[],
  settings: ImportSettings,
  context: CallContext,
): Promise<ImportPlan> {
  const known = book.read((db) => ({
    spot_zones: spotZones(db),
    home_zone: settingOf(db, "home_zone"),
    presentations: presentationParts(db),
  }))
  const { tables, stations } = await partSources(sources)
  const read = await readTables(
    tables,
    {
      map: settings.map,
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
    return withReadings(plan, files, files.length === 0 ? [] : stationReadings(db))
  })
}

const sourceOf = ({ name, bytes }: { name: string; bytes: Uint8Array }): TableSource => ({
  name,
  size: bytes.length,
  bytes: async function* () {
    yield bytes
  },
})

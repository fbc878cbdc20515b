import { z } from "zod"
import { counted, listed } from "./figures.ts"

const count = z.int().nonnegative()

/** What the user says about tables to be imported, beyond their cells. */
export const ImportSettings = z.object({
  /** Each as typed: `Their column=ours`, `Year+Month+Day=date`, `KOCatch=landed:kokanee`, `RodHours=rod_hours`. */
  map: z.array(z.string()).default([]),
  zone: z.string().nullable().default(null),
  /** How rows without a `trip` become trips: each on its own, or those of one day and angler together. */
  trip_is: z.enum(["row", "day"]).default("row"),
  /** Whether one refused row stops the whole import. */
  all_or_nothing: z.boolean().default(false),
  /** Whether a row that says the same as an earlier one of the file is a stint of its own. */
  repeats: z.enum(["skip", "separate"]).default("skip"),
  /** Units of station files that do not say theirs; null takes them as metric, and the report says so. */
  station_units: z.enum(["us", "metric"]).nullable().default(null),
})
export type ImportSettings = z.infer<typeof ImportSettings>

const place = z.object({ file: z.string(), line: z.int() })

/** What station files bring: readings, each kept with a trip that it was taken near in time. Instants in UTC ms. */
const StationReadings = z.object({
  adds: count,
  /** Trips that get any of them. */
  trips: count,
  already_there: count,
  files: z.array(
    z.object({
      file: z.string(),
      /** The format in words. */
      format: z.string(),
      rows: count,
      first_at: z.int().nullable(),
      last_at: z.int().nullable(),
      /** Readings near enough to a trip, once for each trip, before and after thinning. */
      in_reach: count,
      kept: count,
      columns: z.array(
        z.object({
          column: z.string(),
          target: z.string().nullable(),
          unit: z.string().nullable(),
          missing: count,
        }),
      ),
    }),
  ),
})

/** What files of tracks bring. Instants in UTC ms. */
const Tracks = z.object({
  adds: count,
  already_there: count,
  files: z.array(
    z.object({
      file: z.string(),
      /** Points read, and those that are kept of them. */
      points: count,
      kept: count,
      /** Waypoints and routes, which are not taken. */
      not_taken: count,
      tracks: z.array(
        z.object({
          name: z.string().nullable(),
          start_at: z.int().nullable(),
          end_at: z.int().nullable(),
          length_m: z.number(),
          /** The date of the trip it was made on, as its times tell. */
          trip: z.string().nullable(),
        }),
      ),
    }),
  ),
})

/** What an import will do, or has done: the same plan stands behind both. */
export const ImportPlanReport = z.object({
  files: z.array(z.string()),
  records: count,
  creates: z.object({
    trips: count,
    stops: count,
    stints: count,
    strikes: count,
    anglers: count,
    spots: count,
    species: count,
    lure_classes: count,
    presentations: count,
  }),
  rod_hours: z.number(),
  landed: count,
  blank_trips: count,
  columns: z.array(
    z.object({ file: z.string(), column: z.string(), target: z.string().nullable(), reading: z.string() }),
  ),
  refused: z.array(
    place.extend({ column: z.string().nullable(), value: z.string().nullable(), reason: z.string() }),
  ),
  refused_rows: count,
  /** Rows that were there before: in this file (then with the earlier line), or from an earlier import. */
  already_there: z.array(place.extend({ of_line: z.int().nullable() })),
  /** Rows that say another count for a stint already told; neither merged nor added. */
  conflicts: z.array(
    place.extend({ with_line: z.int(), column: z.string(), values: z.array(z.number().nullable()) }),
  ),
  readings: StationReadings,
  tracks: Tracks,
  new_levels: z.array(z.object({ factor: z.string(), levels: z.array(z.string()) })),
  ignored_lines: z.array(place),
  /** Mappings taken over from the last import of a table with the same header, where none were typed. */
  remembered: z.array(z.string()),
  assumptions: z.array(z.string()),
  cautions: z.array(z.object({ code: z.string(), text: z.string() })),
})
export type ImportPlanReport = z.infer<typeof ImportPlanReport>

/** Whether an import would store nothing. */
export const addsNothing = ({ creates, readings, tracks }: ImportPlanReport): boolean =>
  creates.stints === 0 && readings.adds === 0 && tracks.adds === 0

/** What an import adds, in words; empty where nothing. */
export const additionsText = ({ creates, readings, tracks }: ImportPlanReport): string =>
  listed([
    ...(creates.stints === 0
      ? []
      : [`${counted(creates.stints, "stint")} on ${counted(creates.trips, "trip")}`]),
    ...(readings.adds === 0
      ? []
      : [`${counted(readings.adds, "station reading")} to ${counted(readings.trips, "trip")}`]),
    ...(tracks.adds === 0 ? [] : [counted(tracks.adds, "track")]),
  ])

/** A finished import; `batch` takes it back. Null where there was nothing to add. */
export const ImportDone = ImportPlanReport.extend({ batch: z.string().nullable() })
export type ImportDone = z.infer<typeof ImportDone>

/** An import as the logbook remembers it; instants in UTC ms. */
export const PastImport = z.object({
  id: z.string(),
  files: z.string(),
  at: z.int(),
  stints_added: z.int(),
  /** Of station files. */
  readings_added: z.int(),
  tracks_added: z.int(),
  taken_back_at: z.int().nullable(),
})
export type PastImport = z.infer<typeof PastImport>

export const TakenBack = z.object({
  batch: z.string(),
  removed: z.record(z.string(), count),
  /** Rows that were edited since the import, or that something else now stands on: they stay. */
  stayed: z.array(z.object({ entity: z.string(), id: z.string(), what: z.string(), why: z.string() })),
})
export type TakenBack = z.infer<typeof TakenBack>

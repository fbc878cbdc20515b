import { readFileSync } from "node:fs"
import { join } from "node:path"
import { partSources } from "../../../core/exchange/partSources.ts"
import { readStations, type StationFile } from "../../../core/exchange/station/readStations.ts"
import type { GaugeOptions } from "../../../core/exchange/station/gauge.ts"
import { sourceOf } from "./importing.ts"

const usual: GaugeOptions = { zone: null, units: null, now: Date.UTC(2026, 11, 1) }

/** The text of a file of tests/data/station. */
export const stationText = (name: string): string =>
  readFileSync(join(import.meta.dirname, "../../data/station", name), "utf8")

/** Reads one station's file with every row within reach of one trip. */
export async function readText(
  content: string | Uint8Array,
  options: Partial<GaugeOptions> = {},
): Promise<StationFile> {
  const { stations } = await partSources([sourceOf("station.txt", content)])
  const [file] = await readStations(stations, { ...usual, ...options }, () => ["the trip"])
  if (file === undefined) throw new Error("not taken for a station's file")
  return file
}

export const readFile = (name: string, options: Partial<GaugeOptions> = {}): Promise<StationFile> =>
  readText(stationText(name), options)

/** The kept rows in order of time, as `instant: values`. */
export const readings = (file: StationFile): [string, object][] =>
  file.kept
    .map(({ row }) => row)
    .toSorted((a, b) => a.at - b.at)
    .map(({ at, values }) => [new Date(at).toISOString().slice(0, 16), values])

/** Refusals as "line column value: reason". */
export const refusals = (file: StationFile): string[] =>
  file.refusals.map(
    ({ line, column, value, reason }) =>
      `${line} ${column ?? "row"}${value === null ? "" : ` "${value}"`}: ${reason}`,
  )

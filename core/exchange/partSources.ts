import type { TableSource } from "./draft.ts"
import { isStationFile } from "./station/readStations.ts"
import { isTrackFile } from "./track/readTracks.ts"

/** Files by what is read of them. */
export type Parted = {
  readonly tables: TableSource[]
  readonly stations: TableSource[]
  readonly tracks: TableSource[]
}

/** Parts plain tables from station files and files of tracks, by what they hold and never by their names. */
export async function partSources(sources: readonly TableSource[]): Promise<Parted> {
  const parted: Parted = { tables: [], stations: [], tracks: [] }
  for (const source of sources) {
    const part = (await isTrackFile(source))
      ? "tracks"
      : (await isStationFile(source))
        ? "stations"
        : "tables"
    parted[part].push(source)
  }
  return parted
}

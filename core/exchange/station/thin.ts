import { measured } from "./kept.ts"
import type { StationRow } from "./rows.ts"

/** At most one reading in so many minutes is kept for a trip: water and weather change no faster. Ours, no source. */
export const slotMinutes = 10

const slotMs = slotMinutes * 60_000

/** A row of a file with a trip it is within reach of. */
export type TripRow = { readonly trip_id: string; readonly row: StationRow }

/** Keeps for each trip and each ten minutes the row that says most, of equals the earliest. */
export class Thinned {
  readonly #rows = new Map<string, TripRow>()

  add(trip_id: string, row: StationRow): void {
    const key = `${trip_id} ${Math.floor(row.at / slotMs)}`
    const known = this.#rows.get(key)
    if (known === undefined || better(row, known.row)) this.#rows.set(key, { trip_id, row })
  }

  rows(): TripRow[] {
    return [...this.#rows.values()]
  }
}

const better = (a: StationRow, b: StationRow): boolean => {
  const more = measured(a.values).length - measured(b.values).length
  return more > 0 || (more === 0 && a.at < b.at)
}

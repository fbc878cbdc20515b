import type { Piece } from "../../tape/piece.ts"
import { isSameStop, readPlace } from "../../tape/stop.ts"
import type { DayRows } from "../rows.ts"
import { addStop, tidyStops } from "../stops.ts"

/** Reads a spot into a row. It is a whole stop's: the rows below that are at the same stop go with this one. Throws Unreadable. */
export function setSpot(rows: DayRows, at: number, piece: Piece): void {
  const row = rows.row(at)
  const old = row.stop
  const above = rows.day.stints[at - 1]
  if (piece.text === "") {
    if (above !== undefined) moveOn(rows, at, old, above.stop)
    return
  }
  const place = readPlace(piece, rows.context.names)
  const isFirst = rows.day.stints.findIndex(({ stop }) => stop === old) === at
  const own = rows.day.stops[old]
  const candidates = [above?.stop, ...(isFirst ? [] : [old]), overlapping(rows, at)]
  const known = place.again
    ? undefined
    : candidates.find((index) => {
        const stop = index === undefined ? undefined : rows.day.stops[index]
        return stop !== undefined && isSameStop(stop, place)
      })
  if (isFirst && own !== undefined && known === undefined) {
    Object.assign(own, { spot_id: place.spot_id }, place.says)
    return
  }
  const target = known ?? addStop(rows.day, place.spot_id)
  const stop = rows.day.stops[target]
  if (stop !== undefined) Object.assign(stop, place.says)
  moveOn(rows, at, old, target)
}

/** The stop of another lane's row at the same time. */
function overlapping(rows: DayRows, at: number): number | undefined {
  const { start_at } = rows.row(at)
  return rows.day.stints.find(
    (other, i) =>
      i !== at &&
      start_at !== null &&
      other.start_at !== null &&
      other.start_at <= start_at &&
      (other.end_at ?? Infinity) > start_at,
  )?.stop
}

function moveOn(rows: DayRows, at: number, from: number, to: number): void {
  for (let i = at; i < rows.day.stints.length; i++) {
    const stint = rows.day.stints[i]
    if (stint === undefined || stint.stop !== from) break
    stint.stop = to
    for (const reading of rows.day.readings)
      if (reading.stop === from && reading.at !== null && reading.at === stint.start_at) reading.stop = to
  }
  tidyStops(rows.day)
}

/** How unread cells of strikes are told from those of stints: their place is the strike's id and the column. */
const mark = "strike "

/** The place of a strike's cell. */
export const strikePlace = (strike: string, column: string): string => `${mark}${strike}/${column}`

/** The strike that a place is of; null where it is of a stint or a line. */
export const strikeOfPlace = (place: string): string | null =>
  place.startsWith(mark) ? place.slice(mark.length, place.lastIndexOf("/")) : null

/** A place with the strike's id as it is stored now. */
export function placeNow(place: string, idNow: (strike: string) => string): string {
  const strike = strikeOfPlace(place)
  return strike === null ? place : strikePlace(idNow(strike), place.slice(place.lastIndexOf("/") + 1))
}

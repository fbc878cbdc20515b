/** A place on earth, degrees north and east. */
export type Place = { readonly lat: number; readonly lon: number }

const radians = Math.PI / 180
/** Mean radius of the earth, kilometres. Source: IUGG (from memory). */
const earthRadius_km = 6371.0088

/** Great-circle distance between two places, kilometres. Source: the haversine formula. */
export function kilometresBetween(a: Place, b: Place): number {
  const dLat = (b.lat - a.lat) * radians
  const dLon = (b.lon - a.lon) * radians
  const h =
    Math.sin(dLat / 2) ** 2 + Math.cos(a.lat * radians) * Math.cos(b.lat * radians) * Math.sin(dLon / 2) ** 2
  return 2 * earthRadius_km * Math.asin(Math.min(1, Math.sqrt(h)))
}

export type MapBox = {
  readonly west: number
  readonly south: number
  readonly east: number
  readonly north: number
}

/** Kilometres in a degree of latitude, near enough for a map's scale. */
const kmInDegree = 111.2
const leastHeight_km = 24
/** The part of a map's height and width that its spots take. */
const filled = 0.72
/** A map's width over its height. */
export const shape = 1.5

export const radians = (degrees: number): number => (degrees * Math.PI) / 180

/** The box around some places with room about them, so that the coast tells where they are. */
export function boxAround(places: readonly { readonly lat: number; readonly lon: number }[]): MapBox {
  const [south, north] = ends(places.map(({ lat }) => lat))
  const [west, east] = ends(places.map(({ lon }) => lon))
  const lat = (south + north) / 2
  const shrink = Math.max(0.05, Math.cos(radians(lat)))
  const height = Math.min(
    20,
    Math.max(
      (north - south) / filled,
      ((east - west) * shrink) / filled / shape,
      leastHeight_km / kmInDegree,
    ),
  )
  const halfHeight = height / 2
  const halfWidth = (height * shape) / shrink / 2
  const lon = (west + east) / 2
  return {
    south: Math.max(-85, lat - halfHeight),
    north: Math.min(85, lat + halfHeight),
    west: Math.max(-180, lon - halfWidth),
    east: Math.min(180, lon + halfWidth),
  }
}

/** The least and the greatest of so many numbers that they could not all be arguments of one call. */
const ends = (values: readonly number[]): [least: number, most: number] =>
  values.reduce<[number, number]>(
    ([least, most], value) => [Math.min(least, value), Math.max(most, value)],
    [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
  )

import type { MapBox } from "./mapBox.ts"

/** Something to be shown on a map. */
export type MapPlace = {
  readonly id: string
  readonly name: string
  readonly code: string | null
  readonly lat: number
  readonly lon: number
}

type MapLabel = {
  readonly id: string
  readonly lat: number
  readonly lon: number
  readonly text: string
  readonly align: "left" | "right"
}

/** Names where there is room, else codes; on the side on which no other spot lies. */
export function labelled(spots: readonly MapPlace[], box: MapBox, narrow: boolean): MapLabel[] {
  const [width, height] = [box.east - box.west, box.north - box.south]
  return spots.map(({ id, name, code, lat, lon }) => {
    const beside = spots.filter(
      (other) =>
        other.id !== id &&
        Math.abs(other.lat - lat) < height * 0.035 &&
        Math.abs(other.lon - lon) < width * 0.2,
    )
    const right = beside.some((other) => other.lon > lon)
    const left = beside.some((other) => other.lon <= lon)
    const short = narrow || (right && left)
    return {
      id,
      lat,
      lon,
      text: short ? (code ?? name.slice(0, 3)) : name,
      align: right && !left ? "right" : lon > box.east - width * 0.2 ? "right" : "left",
    }
  })
}

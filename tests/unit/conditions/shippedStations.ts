import { uniformInt } from "pure-rand/distribution/uniformInt"
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus"
import { stationFile, type ListedStation } from "../../../core/conditions/stations/stationFile.ts"

/** Which of the shipped stations: of a tide or a current, with constants of their own or following another by offsets. */
export type Sort = { readonly kind: ListedStation["kind"]; readonly by: "constants" | "offsets" }

/** Shipped stations of a sort, drawn by a seed from every coast, none twice. */
export function drawStations({ kind, by }: Sort, count: number, seed: number): ListedStation[] {
  const random = xoroshiro128plus(seed)
  const left = stationFile().list.filter(
    (station) => station.kind === kind && (station.reference === undefined) === (by === "constants"),
  )
  return Array.from({ length: Math.min(count, left.length) }, () =>
    left.splice(uniformInt(random, 0, left.length - 1), 1),
  ).flat()
}

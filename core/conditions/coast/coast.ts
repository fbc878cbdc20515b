import { readFileSync } from "node:fs"
import { gunzipSync } from "node:zlib"
import { z } from "zod"
import { clipRing, type Box, type Point } from "./clip.ts"

/** Pieces of land as rings of longitude and latitude in degrees; the first ring of each is its outline. */
export type Land = readonly (readonly (readonly Point[])[])[]

const pair = z.tuple([z.number(), z.number()])
const File = z.object({
  scale: pair,
  translate: pair,
  polygons: z.array(z.array(z.array(z.number()))),
})

type Piece = { readonly rings: readonly (readonly Point[])[]; readonly bounds: Box }

let pieces: readonly Piece[] | null = null

function loaded(): readonly Piece[] {
  if (pieces !== null) return pieces
  const bytes = readFileSync(new URL("./land.json.gz", import.meta.url))
  const { scale, translate, polygons } = File.parse(JSON.parse(gunzipSync(bytes).toString("utf8")))
  const ringOf = (steps: readonly number[]): Point[] => {
    const points: Point[] = []
    let [x, y] = [0, 0]
    for (let i = 0; i < steps.length; i += 2) {
      x += steps[i] ?? 0
      y += steps[i + 1] ?? 0
      points.push([x * scale[0] + translate[0], y * scale[1] + translate[1]])
    }
    return points
  }
  pieces = polygons.map((polygon) => {
    const rings = polygon.map(ringOf)
    return { rings, bounds: boundsOf(rings[0] ?? []) }
  })
  return pieces
}

function boundsOf(ring: readonly Point[]): Box {
  const box = { west: 180, south: 90, east: -180, north: -90 }
  for (const [x, y] of ring) {
    box.west = Math.min(box.west, x)
    box.east = Math.max(box.east, x)
    box.south = Math.min(box.south, y)
    box.north = Math.max(box.north, y)
  }
  return box
}

/** The land inside a box of degrees, cut at its edges: 1:10 million, so creeks and small islands are not in it. */
export const landIn = (box: Box): Land =>
  loaded()
    .filter(
      ({ bounds }) =>
        bounds.west <= box.east &&
        bounds.east >= box.west &&
        bounds.south <= box.north &&
        bounds.north >= box.south,
    )
    .map(({ rings }) => rings.map((ring) => clipRing(ring, box)).filter((ring) => ring.length > 3))
    .filter((rings) => rings.length > 0)

// npm run coast: writes land.json.gz anew from the map package of the development dependencies: Natural Earth's land at
// 1:10 million, in the public domain, as that package quantised it.
import { readFileSync, writeFileSync } from "node:fs"
import { createRequire } from "node:module"
import { fileURLToPath } from "node:url"
import { gzipSync } from "node:zlib"
import { z } from "zod"

const pair = z.tuple([z.number(), z.number()])
const Topology = z.object({
  transform: z.object({ scale: pair, translate: pair }),
  arcs: z.array(z.array(pair)),
  objects: z.object({
    land: z.object({
      geometries: z.array(
        z.object({ type: z.literal("MultiPolygon"), arcs: z.array(z.array(z.array(z.int()))) }),
      ),
    }),
  }),
})

const source = createRequire(import.meta.url).resolve("world-atlas/land-10m.json")
const { transform, arcs, objects } = Topology.parse(JSON.parse(readFileSync(source, "utf8")))

/** The points of an arc in steps of the grid; a negative number is an arc the other way round (TopoJSON 1.0, section 2.1.4). */
function pointsOf(number: number): number[][] {
  const points: number[][] = []
  let [x, y] = [0, 0]
  for (const [dx, dy] of arcs[number < 0 ? ~number : number] ?? []) {
    x += dx
    y += dy
    points.push([x, y])
  }
  return number < 0 ? points.toReversed() : points
}

/** A ring as one list: its first point, then the steps to each next one. */
function ringOf(numbers: readonly number[]): number[] {
  const points = numbers.flatMap((number, i) => pointsOf(number).slice(i === 0 ? 0 : 1))
  let [x, y] = [0, 0]
  return points.flatMap(([px = 0, py = 0]) => {
    const step = [px - x, py - y]
    x = px
    y = py
    return step
  })
}

const polygons = objects.land.geometries.flatMap(({ arcs: shapes }) =>
  shapes.map((rings) => rings.map(ringOf)),
)
const file = fileURLToPath(new URL("../land.json.gz", import.meta.url))
const bytes = gzipSync(JSON.stringify({ ...transform, polygons }), { level: 9 })
writeFileSync(file, bytes)
console.log(`${polygons.length} pieces of land, ${Math.round(bytes.length / 1024)} kB`)

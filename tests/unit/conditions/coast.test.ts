import fc from "fast-check"
import { expect, test } from "vitest"
import { clipRing, type Point } from "../../../core/conditions/coast/clip.ts"
import { landIn } from "../../../core/conditions/coast/coast.ts"

/** Twice the signed area of a ring in the plane. */
const area = (ring: readonly Point[]): number =>
  ring.reduce((sum, [x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length] ?? [x, y]
    return sum + x * ny - nx * y
  }, 0)

const around = (lat: number, lon: number, half: number) => ({
  west: lon - half,
  east: lon + half,
  south: lat - half,
  north: lat + half,
})
const inRing = ([x, y]: Point, ring: readonly Point[]): boolean =>
  ring.reduce((inside, [ax, ay], i) => {
    const [bx, by] = ring.at(i - 1) ?? [ax, ay]
    return ay > y !== by > y && x < ((bx - ax) * (y - ay)) / (by - ay) + ax ? !inside : inside
  }, false)
const isLand = (lat: number, lon: number): boolean =>
  landIn(around(lat, lon, 0.5)).some(
    ([outline = [], ...holes]) =>
      inRing([lon, lat], outline) && !holes.some((hole) => inRing([lon, lat], hole)),
  )

test("well-known places lie on land or at sea", () => {
  // General knowledge, no source: cities well inland, and open water of the Atlantic, the Gulf and the Pacific.
  for (const [lat, lon] of [
    [33.75, -84.39],
    [48.86, 2.35],
    [-23.55, -46.63],
    [35.69, 139.69],
  ] as const)
    expect(isLand(lat, lon), `${lat} ${lon}`).toBe(true)
  for (const [lat, lon] of [
    [31.4, -80.5],
    [26, -90],
    [0.5, -150],
    [-40, -20],
  ] as const)
    expect(isLand(lat, lon), `${lat} ${lon}`).toBe(false)
})

test("land is cut at the box's edges", () => {
  const box = around(31.4, -81.3, 0.25)
  const rings = landIn(box).flat()
  expect(rings.length).toBeGreaterThan(1)
  for (const [x, y] of rings.flat()) {
    expect(x >= box.west && x <= box.east && y >= box.south && y <= box.north).toBe(true)
  }
  for (const ring of rings) expect(ring.at(0)).toEqual(ring.at(-1))
})

test("what is cut from a rectangle is the rectangle they share", () => {
  const corner = fc.double({ min: -10, max: 10, noNaN: true })
  fc.assert(
    fc.property(corner, corner, corner, corner, (x1, x2, y1, y2) => {
      const [west, east, south, north] = [
        Math.min(x1, x2),
        Math.max(x1, x2),
        Math.min(y1, y2),
        Math.max(y1, y2),
      ]
      const ring: Point[] = [
        [west, south],
        [east, south],
        [east, north],
        [west, north],
        [west, south],
      ]
      const cut = clipRing(ring, { west: -5, east: 5, south: -5, north: 5 })
      const side = (low: number, high: number) => Math.max(0, Math.min(high, 5) - Math.max(low, -5))
      // only rounding is left
      expect(area(cut)).toBeCloseTo(2 * side(west, east) * side(south, north), 6)
    }),
  )
})

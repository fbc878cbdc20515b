/** Longitude and latitude, degrees. */
export type Point = readonly [number, number]
export type Box = {
  readonly west: number
  readonly south: number
  readonly east: number
  readonly north: number
}

/** One edge of a box: whether a point lies on its inner side, and where a stretch crosses it. */
type Edge = { readonly inside: (p: Point) => boolean; readonly cross: (a: Point, b: Point) => Point }

const upright = (x: number, sign: 1 | -1): Edge => ({
  inside: (p) => sign * (p[0] - x) >= 0,
  cross: (a, b) => [x, a[1] + ((x - a[0]) * (b[1] - a[1])) / (b[0] - a[0])],
})
const level = (y: number, sign: 1 | -1): Edge => ({
  inside: (p) => sign * (p[1] - y) >= 0,
  cross: (a, b) => [a[0] + ((y - a[1]) * (b[0] - a[0])) / (b[1] - a[1]), y],
})

/**
 * A closed ring cut to a box, closed again along its edges; empty where none of it lies inside. The plane's geometry holds
 * well within a few degrees. Sutherland and Hodgman (1974) Communications of the ACM 17:32-42.
 */
export function clipRing(ring: readonly Point[], box: Box): Point[] {
  let points: Point[] = [...ring]
  for (const { inside, cross } of [
    upright(box.west, 1),
    upright(box.east, -1),
    level(box.south, 1),
    level(box.north, -1),
  ]) {
    const kept: Point[] = []
    for (const [i, point] of points.entries()) {
      const before = points.at(i - 1) ?? point
      if (inside(point) !== inside(before)) kept.push(cross(before, point))
      if (inside(point)) kept.push(point)
    }
    points = kept
  }
  const [first] = points
  return first === undefined ? [] : [...points, first]
}

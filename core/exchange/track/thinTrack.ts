import simplify from "simplify-js"
import type { TrackPoint } from "../../../shared/tracks.ts"
import { kilometresBetween } from "../../conditions/place.ts"

/** How far the kept line may lie from the recorded one, metres: about as far as a receiver is out. Ours, no source. */
const tolerance_m = 10
/** Points taken at a time, so that no line, however it winds, is halved too often. */
const atOnce = 2000
const metresInDegree = 111_195
/** Digits kept of a degree: a metre. */
const grid = 1e5

/** A stretch with only the points that its shape needs (Douglas and Peucker's rule), to the metre; its ends stay. */
export function thinStretch(points: readonly TrackPoint[]): TrackPoint[] {
  const kept: TrackPoint[] = []
  for (let from = 0; from < points.length - 1; from += atOnce) {
    const piece = points.slice(from, from + atOnce + 1)
    const shrink = Math.cos(((piece[0]?.[1] ?? 0) * Math.PI) / 180)
    const flat = piece.map(([lon, lat, at]) => ({
      x: lon * shrink * metresInDegree,
      y: lat * metresInDegree,
      point: [Math.round(lon * grid) / grid, Math.round(lat * grid) / grid, at] satisfies TrackPoint,
    }))
    const needed = new Set<object>(simplify(flat, tolerance_m, true))
    for (const one of flat) if (needed.has(one) && (one !== flat[0] || from === 0)) kept.push(one.point)
  }
  return kept
}

/** The length of a line of points, metres. */
export const lengthOf = (points: readonly TrackPoint[]): number =>
  points.reduce((sum, [lon, lat], i) => {
    const before = points[i - 1]
    return before === undefined
      ? 0
      : sum + 1000 * kilometresBetween({ lat: before[1], lon: before[0] }, { lat, lon })
  }, 0)

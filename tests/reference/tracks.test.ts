// What the files of tests/data/tracks must yield by the GPX 1.1 schema (Topografix, 2004), which says of times that they are UTC
// (xsd:dateTime) and of longitudes that they are below 180. Lengths: haversine formula with IUGG's mean radius, 6371008.8 m, worked out
// with the files; attacks: CWE-776 and CWE-611.
import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { readTracks } from "../../core/exchange/track/readTracks.ts"
import { lengthOf, thinStretch } from "../../core/exchange/track/thinTrack.ts"
import { problemOf } from "../unit/exchange/reading.ts"
import { sourceOf } from "../unit/exchange/importing.ts"

const now = Date.UTC(2026, 10, 1)

async function read(name: string) {
  const bytes = readFileSync(join(import.meta.dirname, "../data/tracks", name))
  const [file] = await readTracks([sourceOf(name, bytes)], now)
  if (file === undefined) throw new Error(`${name} was not read`)
  return file
}

const utc = (at: number | null | undefined) => (at == null ? null : new Date(at).toISOString())

test("a track with three stops: its points, times, bounds and length; waypoints are counted and not taken", async () => {
  const { tracks, points, notTaken, refusals } = await read("track-three-spots.gpx")
  expect([tracks.length, points, notTaken, refusals.length]).toEqual([1, 226, 3, 0])
  const [track] = tracks
  expect(track?.name).toBe("three stops")
  const [stretch, ...others] = track?.stretches ?? []
  expect(others).toEqual([])
  expect([utc(stretch?.at(0)?.[2]), utc(stretch?.at(-1)?.[2])]).toEqual([
    "2026-05-15T10:05:00.000Z",
    "2026-05-15T11:57:30.000Z",
  ])
  const lats = (stretch ?? []).map(([, lat]) => lat)
  const lons = (stretch ?? []).map(([lon]) => lon)
  expect([Math.min(...lats), Math.max(...lats)]).toEqual([31.53995, 31.556045])
  expect([Math.min(...lons), Math.max(...lons)]).toEqual([-81.237553, -81.22094])
  // As many digits as the reference gives; the same formula and radius.
  expect(lengthOf(stretch ?? [])).toBeCloseTo(4474.4, 1)
})

test("thinned, it keeps its ends and lies within 10 m and the rounding of a metre of every recorded point", async () => {
  const [stretch = []] = (await read("track-three-spots.gpx")).tracks[0]?.stretches ?? []
  const thin = thinStretch(stretch)
  expect(thin.length).toBeLessThan(stretch.length / 4)
  expect([thin.at(0)?.[2], thin.at(-1)?.[2]]).toEqual([stretch.at(0)?.[2], stretch.at(-1)?.[2]])
  for (const point of stretch) expect(metresFrom(point, thin)).toBeLessThan(10 + 1)
})

test("stretches break where the record does, and where it is silent; every spelling of a time is read", async () => {
  const { tracks, points, withoutOffset, refusals } = await read("track-gaps.gpx")
  expect([points, refusals.length, withoutOffset]).toEqual([96, 0, 1])
  const stretches = tracks[0]?.stretches ?? []
  expect(stretches.map((stretch) => [utc(stretch.at(0)?.[2]), utc(stretch.at(-1)?.[2])])).toEqual([
    [expect.any(String), "2026-05-16T10:18:30.000Z"],
    ["2026-05-16T11:06:00.000Z", "2026-05-16T11:19:30.000Z"],
    ["2026-05-16T12:25:00.000Z", expect.any(String)],
  ])
  const all = stretches.flat()
  expect(all).toHaveLength(96)
  expect(all.filter(([, , at]) => at === null)).toHaveLength(1)
  expect([8, 9, 10].map((i) => utc(all[i]?.[2]))).toEqual([
    "2026-05-16T10:09:00.500Z",
    "2026-05-16T10:09:30.000Z",
    "2026-05-16T10:10:00.000Z",
  ])
})

test("an entity bomb is refused by its document type, before anything unfolds", async () => {
  const problem = await problemOf(read("hostile-entities.gpx"))
  expect(problem.code).toBe("table_unreadable")
  expect(problem.message).toMatch(
    /^hostile-entities\.gpx: line (\d+), column \d+: it brings a document type of its own/,
  )
  const line = Number(/line (\d+)/.exec(problem.message)?.[1])
  expect(line).toBeGreaterThanOrEqual(2)
  expect(line).toBeLessThanOrEqual(13)
})

test("a file cut in the middle of a tag says where it ends too early", async () => {
  const { message } = await problemOf(read("track-truncated.gpx"))
  expect(message).toMatch(/^track-truncated\.gpx: line (118|119|120), column \d+: the file ends too early/)
})

test("points that cannot be are refused one by one", async () => {
  const { points, refusals, tracks } = await read("track-bad-values.gpx")
  expect(points).toBe(4)
  expect(refusals.map(({ line, column }) => [line, column])).toEqual([
    [5, "lat"],
    [6, "lon"],
    [7, "time"],
  ])
  // One point alone is no line.
  expect(tracks).toEqual([])
})

/** The distance of a point from a line of points, metres, on a plane that touches the earth there. */
function metresFrom(
  [lon, lat]: readonly [number, number, number | null],
  line: readonly (readonly [number, number, number | null])[],
): number {
  const scale = 111_195
  const at = line.map(
    ([x, y]) => [(x - lon) * scale * Math.cos((lat * Math.PI) / 180), (y - lat) * scale] as const,
  )
  return Math.min(
    ...at.slice(1).map(([x2, y2], i) => {
      const [x1, y1] = at[i] ?? [0, 0]
      const [dx, dy] = [x2 - x1, y2 - y1]
      const long = dx * dx + dy * dy
      const t = long === 0 ? 0 : Math.max(0, Math.min(1, -(x1 * dx + y1 * dy) / long))
      return Math.hypot(x1 + t * dx, y1 + t * dy)
    }),
  )
}

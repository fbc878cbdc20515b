// Tracks into a logbook: kept, known again, tied to trips by their times, taken back, removed. All numbers are invented.
import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { importText } from "../../../core/cli/importText.ts"
import { takeBackImport } from "../../../core/exchange/takeBack.ts"
import { storedTracks } from "../../../core/store/read/tracks.ts"
import { temporaryLogbook } from "../store/temporaryLogbook.ts"
import { startCore } from "../service/startCore.ts"
import { importTables } from "./importing.ts"
import { problemOf } from "./reading.ts"

const three = readFileSync(join(import.meta.dirname, "../../data/tracks/track-three-spots.gpx"))
const stints = `trip,start,end,landed
A,2026-05-15T10:00Z,2026-05-15T12:00Z,1
B,2026-05-16T10:00Z,2026-05-16T12:00Z,0`

const gpx = (...points: readonly string[]) =>
  `<gpx version="1.1" xmlns="http://www.topografix.com/GPX/1/1"><trk><trkseg>${points.join("")}</trkseg></trk></gpx>`

test("a track comes in beside a table, is known again, and is taken back", async () => {
  const book = temporaryLogbook()
  await importTables(book, { "stints.csv": stints })
  const done = await importTables(book, { "three.gpx": three })
  expect(done.tracks).toMatchObject({
    adds: 1,
    already_there: 0,
    files: [{ points: 226, not_taken: 3, tracks: [{ name: "three stops", trip: "2026-05-15" }] }],
  })
  expect(done.creates.stints).toBe(0)
  expect(importText(done, done, 80)).toContain("Added 1 track.")
  const [track, ...others] = storedTracks(book.db)
  expect(others).toEqual([])
  expect(track?.start_at).toBe(Date.UTC(2026, 4, 15, 10, 5))
  const again = await importTables(book, { "again.gpx": three })
  expect([again.tracks.adds, again.tracks.already_there, again.batch]).toEqual([0, 1, null])
  book.change((change) => takeBackImport(change, done.batch ?? "", false))
  expect(storedTracks(book.db)).toEqual([])
  expect((await importTables(book, { "three.gpx": three })).tracks.adds).toBe(1)
})

test("points that cannot be taken are told with their lines, and the others make the track", async () => {
  const book = temporaryLogbook()
  const text = gpx(
    '<trkpt lat="31.5" lon="-81.2"/>\n',
    '<trkpt lat="95" lon="-81.2"/>\n',
    '<trkpt lat="31.6" lon="180"/>\n',
    '<trkpt lat="31.6" lon="-81.2"/>\n',
  )
  const done = await importTables(book, { "some.gpx": text })
  expect(done.refused.map(({ line, column }) => [line, column])).toEqual([
    [2, "lat"],
    [3, "lon"],
  ])
  expect([done.refused_rows, done.tracks.adds]).toEqual([2, 1])
  const [track] = storedTracks(book.db)
  expect([track?.start_at, track?.points]).toEqual([
    null,
    [
      [
        [-81.2, 31.5, null],
        [-81.2, 31.6, null],
      ],
    ],
  ])
  // A tenth of a degree along a meridian of the mean earth: 11.1195 km.
  expect(track?.length_m).toBe(11_120)
})

test.each([
  [
    "an entity nobody declared",
    gpx('<trkpt lat="1" lon="1"><name>&bomb;</name></trkpt>'),
    /no well-formed XML/,
  ],
  ["elements without end", `<gpx>${"<a>".repeat(40)}`, /elements lie more than 32 deep/],
  ["a comment without end", `<gpx><!--${"x".repeat(2 ** 21)}`, /there is no end to what stands there/],
  ["letters that are not UTF-8", Buffer.from([...Buffer.from("<gpx><trk><name>"), 0xff, 0xfe]), /not utf-8/],
])("a file with %s is refused by a sentence, and nothing is kept", async (_, content, sentence) => {
  const book = temporaryLogbook()
  expect((await problemOf(importTables(book, { "odd.gpx": content }))).message).toMatch(sentence)
  expect(storedTracks(book.db)).toEqual([])
})

test("a file without a track adds nothing, and says so", async () => {
  const done = await importTables(temporaryLogbook(), { "none.gpx": "<gpx></gpx>" })
  expect(done.cautions.map(({ code }) => code)).toContain("no_track")
  expect(done.batch).toBeNull()
})

test("the list tells each track's trip by shared time; a removed one comes back by undo", async () => {
  const core = startCore().window().client
  await core.call("desk.new", { name: "tracks.stintbook" })
  const settings = {}
  const files = [
    { name: "stints.csv", bytes: Buffer.from(stints) },
    { name: "three.gpx", bytes: new Uint8Array(three) },
  ]
  await core.call("import.commit", { files, settings })
  const [track] = await core.call("tracks.list", {})
  expect(track).toMatchObject({ name: "three stops", trip: { date: "2026-05-15" } })
  await core.call("tracks.remove", { id: track?.id ?? "" })
  expect(await core.call("tracks.list", {})).toEqual([])
  expect(await core.call("history.undo_last", {})).toMatchObject({ said: "track three stops removed" })
  expect(await core.call("tracks.list", {})).toHaveLength(1)
})

test("no export has a track", async () => {
  const core = startCore().window().client
  await core.call("desk.new", { name: "tracks.stintbook" })
  const files = [{ name: "three.gpx", bytes: new Uint8Array(three) }]
  await core.call("import.commit", { files, settings: {} })
  const { files: exported } = await core.call("export.tables", { coordinates: true })
  const all = exported.map(({ name, bytes }) => name + new TextDecoder().decode(bytes)).join("\n")
  expect(all).not.toMatch(/three stops|31\.5[34]\d|-81\.2/)
})

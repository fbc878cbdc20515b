import { existsSync, readdirSync, readFileSync, statSync } from "node:fs"
import { join } from "node:path"
import fc from "fast-check"
import { expect, test } from "vitest"
import { openLog, withoutPlaces } from "../../../electron/log.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"

test.each([
  ["31.39, -81.288", "[place]"],
  ["at 31.39 -81.288.", "at [place]."],
  ["(31.3912,-81.2880)", "([place])"],
  ["31.39° N, 81.288° W", "[place]"],
  ["31° 23.4' N, 81° 17.3' W", "[place]"],
  [`31°23'24"N 81°17'17"W`, "[place]"],
  [`{"lat":31.39,"lon":-81.288}`, `{"lat":[place],"lon":[place]}`],
  ["lat=31 lon=-81", "lat=[place] lon=[place]"],
  ["Latitude: 31.4", "Latitude: [place]"],
])("a place in %j is blotted out", (text, kept) => {
  expect(withoutPlaces(text)).toBe(kept)
})

test.each([
  "2026-05-15T10:10:00.000Z core ended with status 1",
  "stintbook 0.1.0 on linux x64, Node 24.21.0",
  "at file.ts:128:14",
  "3.5 of 20 rows",
])("%j stays as it is", (text) => {
  expect(withoutPlaces(text)).toBe(text)
})

test("no pair of decimal degrees survives", () => {
  const degrees = (most: number) =>
    fc.tuple(fc.integer({ min: -most * 1e5, max: most * 1e5 }), fc.integer({ min: 2, max: 5 }))
  fc.assert(
    fc.property(degrees(90), degrees(180), fc.constantFrom(",", ", ", " ", "; "), (lat, lon, between) => {
      const [a, b] = [lat, lon].map(([value, digits]) => (value / 1e5).toFixed(digits))
      const kept = withoutPlaces(`spot at ${a}${between}${b} failed`)
      expect(kept).toBe("spot at [place] failed")
    }),
    { seed: 1, numRuns: 500 },
  )
})

test("it keeps three files of a megabyte, the latest lines in the first, for the user alone", () => {
  const folder = join(temporaryFolder(), "log")
  const log = openLog(folder, () => new Date(0))
  expect(existsSync(folder)).toBe(false)
  const line = "x".repeat(100_000)
  for (let i = 0; i < 45; i++) log.write(`${i} ${line}`)
  log.write("the last")
  expect(readdirSync(folder).toSorted()).toEqual(["stintbook.1.log", "stintbook.2.log", "stintbook.log"])
  for (const name of readdirSync(folder)) {
    const { size, mode } = statSync(join(folder, name))
    expect(size).toBeLessThanOrEqual(1024 * 1024)
    expect(process.platform === "win32" ? 0 : mode & 0o077).toBe(0)
  }
  expect(readFileSync(log.file, "utf8")).toMatch(/1970-01-01T00:00:00.000Z the last\n$/)
})

test("a folder that cannot be written stops nobody", () => {
  const file = join(temporaryFolder(), "taken")
  openLog(file).write("makes the folder")
  const log = openLog(join(file, "stintbook.log", "below"))
  expect(() => log.write("lost")).not.toThrow()
})

// Stations and acts on the command line, as somebody meets them who has not read the help.
import { writeFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { z } from "zod"
import { StationSeen } from "../../../shared/places.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { run } from "./running.ts"

const plain = (text: string): string => text.replaceAll(/\s+/g, " ")
const said = async (...argv: string[]): Promise<string> => {
  const { status, out, err } = await run(...argv)
  expect([status, err]).toEqual([0, ""])
  return plain(out)
}
const found = async (...argv: string[]) =>
  z.array(StationSeen).parse(JSON.parse((await run("stations", ...argv, "--json")).out))
const newBook = async (): Promise<string> => {
  const file = join(temporaryFolder(), "a.stintbook")
  expect((await run("new", file)).status).toBe(0)
  return file
}
const keepDock = (file: string, ...more: string[]) =>
  run("station", file, "Upper Dock", "--lat", "31.4", "--lon", "-81.3", ...more)
const own = ["--source", "own, June 2026"]
const offsets = ["--reference", "8670870", "--high", "44,1.03", "--low", "55"]

test("a station is found by its id, its name or parts of it, in any case and order", async () => {
  // Ids of the National Ocean Service: Fort Pulaski is tide station 8670870.
  expect((await found("8670870")).map(({ name }) => name)).toEqual(["Fort Pulaski"])
  expect((await found("act7801")).map(({ id, kind }) => [id, kind])).toEqual([["ACT7801", "current"]])
  const byName = await found("pulaski", "FORT")
  expect(byName.map(({ id }) => id)).toContain("8670870")
  expect(byName.every(({ name }) => name.includes("Fort Pulaski"))).toBe(true)
  expect(await said("stations", "Fort Pulaski")).toContain(
    "Fort Pulaski (8670870): tide station at 32°02.081′N 80°54.182′W.",
  )
  expect(await said("stations", "8670870", "--lat", "31.4", "--lon", "-81.3")).toMatch(/, 79\.\d km away\./)
  expect(await said("stations", "creek")).toContain("There may be more")
  expect(await said("stations", "Nowhere Creek")).toContain('No station\'s name or id holds "Nowhere Creek"')
})

test("where no coast is near, that is said, and one station instead of five", async () => {
  const bern = await said("stations", "--lat", "46.95", "--lon", "7.45")
  expect(bern).toMatch(/^No tide station is within 40 km of .* no tide is told there unless you choose one\./)
  expect(bern.match(/too far to stand/g)).toHaveLength(2)
  expect(bern).not.toContain("swapped")
  expect(await said("stations", "--lat", "-81.288", "--lon", "31.39")).toContain(
    "! Were latitude and longitude swapped?",
  )
  const coast = await said("stations", "--lat", "31.39", "--lon", "-81.288")
  expect(coast).toMatch(/^Tide stations nearby; .* Old Tower \(8675622\): 0\.0 km away/)
})

test.each([
  ["no place", [], /station wants its place: --lat and --lon/],
  ["no source", ["--lat", "31.4", "--lon", "-81.3", ...offsets], /station wants --source/],
  ["no numbers", ["--lat", "31.4", "--lon", "-81.3", ...own], /Give --constants FILE .* or --reference ID/],
  [
    "one offset",
    ["--lat", "31.4", "--lon", "-81.3", ...own, "--reference", "8670870", "--low", "5"],
    /--reference wants --high too/,
  ],
  [
    "an offset in words",
    ["--lat", "31.4", "--lon", "-81.3", ...own, "--reference", "8670870", "--high", "soon", "--low", "5"],
    /--high "soon" is not read: write minutes later/,
  ],
  [
    "an offset of a day",
    ["--lat", "31.4", "--lon", "-81.3", ...own, "--reference", "8670870", "--high", "1440", "--low", "5"],
    /cannot be more than 720 minutes/,
  ],
  [
    "constants without their datum",
    ["--lat", "31.4", "--lon", "-81.3", ...own, "--constants", "none.csv", "--mean", "1"],
    /--constants wants --datum/,
  ],
  [
    "a mean level in words",
    [
      "--lat",
      "31.4",
      "--lon",
      "-81.3",
      ...own,
      "--constants",
      "none.csv",
      "--datum",
      "MLLW",
      "--mean",
      "low",
    ],
    /--mean "low" is not a number of metres/,
  ],
])("a station of one's own with %s: one sentence of what is wanted", async (_, argv, why) => {
  const file = await newBook()
  const { status, out, err } = await run("station", file, "Upper Dock", ...argv)
  expect([status, out]).toEqual([2, ""])
  expect(err).toMatch(why)
  expect(err).not.toContain("Invalid input")
  expect(await said("undo", file)).toBe("Nothing was done in this logbook yet. ")
})

test("a station of one's own says how to use it, is found again, and can stand for a spot", async () => {
  const file = await newBook()
  const kept = plain((await keepDock(file, ...own, ...offsets)).out)
  const [, id = ""] = /spot FILE SPOT --tide ([\w-]+)/.exec(kept) ?? []
  expect((await found("upper dock", "--logbook", file)).map((station) => station.id)).toEqual([id])
  expect(await found("upper dock")).toEqual([])
  expect(await said("spot", file, "Dock", "--at", "31.4N 81.3W", "--tide", id)).toContain("Tide: Upper Dock")
})

test("undo lists the latest acts, says what it put back, and is itself undone", async () => {
  const file = await newBook()
  await said("spot", file, "Marsh drain", "--at", "31 23.4 N 81 17.3 W")
  await said("spot", file, "Marsh drain", "--lag-high", "18", "--lag-low", "20")
  const acts = await said("undo", file)
  const [changed = "", made = ""] = acts.match(/[\da-f]{8}-[\da-f-]{27}/g) ?? []
  expect(acts).toContain("changed spot Marsh drain")
  expect(acts.indexOf("changed spot")).toBeLessThan(acts.indexOf("made spot Marsh drain"))
  const early = await run("undo", file, made)
  expect([early.status, plain(early.err)]).toEqual([
    1,
    `A spot of that act was changed again later. Undo the later act first: ${changed} `,
  ])
  expect(await said("undo", file, changed)).toMatch(
    /^Put back: changed spot Marsh drain\. Undo that: undo FILE [\da-f-]+ $/,
  )
  expect(await said("spots", file)).toContain("Marsh drain")
  expect((await run("undo", file, "x", "y")).err).toContain("This command wants FILE [ACT]")
})

test("an import is not undone as an act but taken back, and both are said", async () => {
  const file = await newBook()
  const table = join(temporaryFolder(), "day.csv")
  writeFileSync(table, "date,hours,landed,species\n2026-05-15,2,1,red drum\n")
  const imported = z
    .object({ batch: z.string() })
    .parse(JSON.parse((await run("import", file, table, "--json")).out))
  expect(await said("undo", file)).toMatch(/import of day\.csv \(take-back undoes an import\)/)
  const { status, err } = await run("undo", file, imported.batch)
  expect([status, err]).toEqual([1, `${imported.batch} is an import. Take the import back instead.\n`])
  expect(await said("take-back", file, imported.batch)).toContain("1 stint")
})

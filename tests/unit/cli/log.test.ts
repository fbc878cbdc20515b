import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { z } from "zod"
import { Logbook } from "../../../core/store/logbook.ts"
import { createLogbook } from "../../../core/store/open.ts"
import { dayBook } from "../day/dayBook.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { run, runWith } from "./running.ts"

const tape = readFileSync(join(import.meta.dirname, "../../data/days/even.txt"), "utf8")

/** A logbook file with the sample's names and nothing logged. */
function namedBook(): string {
  const file = join(temporaryFolder(), "a.stintbook")
  const { book } = dayBook(new Logbook(createLogbook(file)))
  book.close()
  return file
}

test("log keeps a day from standard input, tells it in words, and can be undone as one act", async () => {
  const file = namedBook()
  const kept = await runWith(
    tape,
    "log",
    file,
    "--date",
    "2026-05-15",
    "--place",
    "Mill Drain",
    "--angler",
    "tob",
    "--json",
  )
  expect(kept).toMatchObject({ status: 0, err: "" })
  expect(JSON.parse(kept.out)).toMatchObject({
    said: "day of 2026-05-15 typed, 10 stints",
    totals: { stints: 10, landed: 14, strikes: 23 },
  })
  expect(JSON.parse((await run("check", file, "--json")).out)).toMatchObject({
    trips: 1,
    stints: 10,
    strikes: 23,
  })
  const { act } = z.object({ act: z.string() }).parse(JSON.parse(kept.out))
  await run("undo", file, act)
  expect(JSON.parse((await run("check", file, "--json")).out)).toMatchObject({ trips: 0, stints: 0 })
})

test("log in words shows each line's reading", async () => {
  const kept = await runWith("620 md tw.m\n705x\n", "log", namedBook(), "--date", "2026-05-15")
  expect(kept.status).toBe(0)
  expect(kept.out.split("\n").slice(0, 4)).toEqual([
    "620 md tw.m",
    "    6:20 to 7:05 (45 min) at Mill Drain: suspending minnow natural, 1 missed.",
    "705x",
    "    Nobody fishes from 7:05.",
  ])
})

test("a tape that is not clear is not kept, and each unclear line has its sentence", async () => {
  const book = namedBook()
  const refused = await runWith("620 md tww\n705 md pt.q", "log", book, "--date", "2026-05-15", "--json")
  expect(refused.status).toBe(1)
  expect(JSON.parse(refused.out)).toMatchObject({
    error: { code: "bad_input", details: { unclear: [{ line: 1 }, { line: 2 }] } },
  })
  expect(refused.err).toContain('Line 1: "tww" is no code of yours.')
  expect(JSON.parse((await run("check", book, "--json")).out)).toMatchObject({ trips: 0 })
  expect((await runWith("", "log", book, "--date", "soon")).status).toBe(2)
  expect((await runWith("", "log", book)).err).toContain("--date is wanted")
  expect((await runWith("", "log", book, "--date", "2026-05-15", "--place", "Nowhere")).err).toContain(
    'There is no spot "Nowhere"',
  )
})

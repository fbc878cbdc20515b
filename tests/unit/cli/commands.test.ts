import { existsSync, readFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { z } from "zod"
import { AnswerJson } from "../../../shared/answer.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { run } from "./running.ts"

const data = join(import.meta.dirname, "../../data")

const newLogbook = async (): Promise<string> => {
  const file = join(temporaryFolder(), "a.stintbook")
  expect((await run("new", file)).status).toBe(0)
  return file
}
const json = (text: string): unknown => JSON.parse(text)

test("new, import, ask, export, take-back, check and backup go hand in hand", async () => {
  const file = await newLogbook()
  const table = join(data, "messy/00-clean.csv")
  const dry = await run("import", file, table, "--dry-run")
  expect(dry.out).toContain("Would add 12 stints on ")
  expect((await run("check", file)).out).toContain("0 stints")
  const done = z.object({ batch: z.string() }).parse(json((await run("import", file, table, "--json")).out))
  expect((await run("ask", file, "--outcome", "landed_rate", "--by", "lure_class")).out).toContain("rod-hour")
  const out = join(temporaryFolder(), "tables")
  expect((await run("export", file, out)).status).toBe(0)
  expect(existsSync(join(out, "logbook.xlsx"))).toBe(true)
  expect((await run("check", file)).out).toContain(done.batch)
  expect((await run("backup", file)).status).toBe(0)
  expect((await run("take-back", file, done.batch)).out).toMatch(
    /^Taken back: [^.]*\b4\s+lure\s+classes\b[^.]*\b12\s+stints\b/,
  )
  expect((await run("check", file)).out).toContain("0 stints")
})

test("an answer as JSON has the contract's fields and no other", async () => {
  const file = await newLogbook()
  await run("import", file, join(data, "messy/00-clean.csv"))
  const { out } = await run("ask", file, "--outcome", "landed_rate", "--by", "lure_class", "--json")
  const answer = json(out)
  expect(answer).toEqual(AnswerJson.parse(answer))
  // tests/unit/questions/compare.test.ts holds the schema's own fields to the contract.
  expect(Object.keys(z.record(z.string(), z.unknown()).parse(answer))).toEqual(Object.keys(AnswerJson.shape))
})

test.each([
  [["sing"], 2, /no command "sing"/],
  [["ask"], 2, /wants FILE/],
  [["ask", "x", "--outcome", "luck", "--by", "lure_class"], 2, /outcome/],
  [["ask", "x", "--outcome", "landed_rate", "--by", "moonbeams"], 2, /"moonbeams" is not a factor/],
  [["ask", "x", "--outcome", "landed_rate", "--by", "water_temp_c", "--cuts", "18,12"], 2, /must rise/],
  [
    ["ask", "x", "--outcome", "landed_rate", "--by", "lure_class", "--effort", "target"],
    2,
    /needs a species/,
  ],
  [["ask", "none.stintbook", "--outcome", "landed_rate", "--by", "lure_class"], 1, /There is no file/],
  [["import", "none.stintbook", "none.csv"], 1, /There is no file none\.csv/],
  [["check", import.meta.dirname], 1, /is a folder/],
] as const)("%j ends with status %i and one sentence", async (argv, status, sentence) => {
  const result = await run(...argv)
  expect(result.status).toBe(status)
  expect(result.err).toMatch(sentence)
  expect(result.out).toBe("")
  const asJson = await run(...argv, "--json")
  const Wrong = z.object({ error: z.object({ code: z.string(), message: z.string(), details: z.unknown() }) })
  expect(Wrong.parse(json(asJson.out)).error.message).toMatch(sentence)
})

test("a folder in place of a table is told", async () => {
  const file = await newLogbook()
  expect((await run("import", file, data)).err).toMatch(/is a folder/)
})

test("the README names every factor, and its commands are those there are", async () => {
  const readme = readFileSync(join(data, "../../README.md"), "utf8")
  const { factorIds } = await import("../../../shared/factors.ts")
  for (const id of factorIds) expect(readme).toContain(`\`${id}\``)
  const { commands } = await import("../../../core/cli/commands.ts")
  const named = [...readme.matchAll(/stintbook -- ([a-z-]+)/g)].map((match) => match[1] ?? "")
  expect(named.filter((name) => commands[name] === undefined)).toEqual([])
})

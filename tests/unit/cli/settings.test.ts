import { join } from "node:path"
import { writeFileSync } from "node:fs"
import { expect, test } from "vitest"
import { z } from "zod"
import { AnswerJson } from "../../../shared/answer.ts"
import { presets } from "../../../shared/readerUnits.ts"
import { LogbookSettings } from "../../../shared/settings.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"
import { run } from "./running.ts"

const Saved = LogbookSettings.extend({ act: z.string().nullable() })

/** A new logbook with ten cold trips and ten warm ones. */
async function logbook(): Promise<string> {
  const folder = temporaryFolder()
  const [file, table] = [join(folder, "a.stintbook"), join(folder, "a.csv")]
  const rows = Array.from({ length: 20 }, (_, i) => {
    const day = `2024-05-${String(1 + i).padStart(2, "0")}`
    return `${day},${day},06:00,08:00,${i % 2 === 0 ? 10 : 20},${1 + (i % 2)},${1 + (i % 3)}`
  })
  writeFileSync(table, ["trip,date,start,end,water_temp_c,rods,landed", ...rows].join("\n"))
  await run("new", file)
  expect((await run("import", file, table)).status).toBe(0)
  return file
}
const saved = async (file: string, ...options: string[]) => {
  const { status, out, err } = await run("settings", file, ...options, "--json")
  expect([status, err]).toEqual([0, ""])
  return Saved.parse(JSON.parse(out))
}

test("what stands is printed in words, and as JSON", async () => {
  const file = await logbook()
  expect(await saved(file)).toEqual({ units: presets.metric, home_zone: null, act: null })
  const { out } = await run("settings", file, "--units", "us", "--home-zone", "America/New_York")
  expect(out.replaceAll(/\s+/g, " ")).toMatch(
    /^Units: temperature °F, speed kn, pressure inHg, depth ft, sight depth ft, length in, tackle weight oz, fish weight lb, line strength lb test\. Home zone: America\/New_York\. Changed\. Undo: undo FILE [\w-]+ $/,
  )
  expect(await saved(file)).toEqual({ units: presets.us, home_zone: "America/New_York", act: null })
})

test("single choices go over the named set, and over what stands, in any spelling", async () => {
  const file = await logbook()
  const mixed = await saved(file, "--units", "us", "--speed", "mph", "--sight-depth", "inches")
  expect(mixed.units).toEqual({ ...presets.us, speed: "mph", sight_depth: "in" })
  const changed = await saved(file, "--temperature", "C", "--speed", "m/s", "--line-strength", "kg")
  expect(changed.units).toEqual({
    ...presets.us,
    sight_depth: "in",
    temperature: "c",
    speed: "ms",
    line_strength: "kgf",
  })
  const undone = await run("undo", file, changed.act ?? "")
  expect(undone.status).toBe(0)
  expect((await saved(file)).units).toEqual(mixed.units)
  expect((await saved(file, "--home-zone", "UTC")).home_zone).toBe("UTC")
  expect((await saved(file, "--home-zone", "none")).home_zone).toBeNull()
})

test.each([
  [["--units", "imperial"], 2, '--units "imperial" is not known: metric or us.'],
  [["--depth", "cubit"], 2, '"cubit" is no unit that depth can be shown in. Choose one of m, ft.'],
  [["--depth", "yd"], 2, '"yd" is no unit that depth can be shown in. Choose one of m, ft.'],
  [["--temperature", "ft"], 2, '"ft" is no unit that temperature can be shown in. Choose one of c, f.'],
  [["--home-zone", "Atlantis"], 1, 'There is no time zone "Atlantis". Write its IANA name'],
] as const)("settings %j is refused by a sentence", async (options, status, sentence) => {
  const file = await logbook()
  const result = await run("settings", file, "--fish-weight", "lb", ...options)
  expect([result.status, result.out]).toEqual([status, ""])
  expect(result.err).toContain(sentence)
  expect(await saved(file)).toEqual({ units: presets.metric, home_zone: null, act: null })
})

const ask = ["--outcome", "landed_rate", "--by", "water_temp_c"] as const

test("a question is answered in the logbook's units, another unit in the call comes first", async () => {
  const file = await logbook()
  const printed = async (...options: string[]) => (await run("ask", file, ...ask, ...options)).out
  const metric = await printed()
  expect(metric).toContain("18-<24 °C")
  expect(metric).not.toContain("°F")
  const us = await printed("--units", "us")
  expect(us).toContain("64-<75 °F")
  expect(us).not.toContain("°C")
  await saved(file, "--units", "us")
  expect(await printed()).toBe(us)
  expect(await printed("--units", "metric")).toBe(metric)
  expect((await run("ask", file, ...ask, "--units", "imperial")).status).toBe(2)
  expect((await run("ask", file, "--outcome", "landed_rate", "--by", "all")).out).toContain("64-<75 °F over")
})

test("as JSON only the sentence and the cautions follow the units, numbers and levels stay SI", async () => {
  const file = await logbook()
  const asJson = async (...options: string[]) =>
    AnswerJson.parse(JSON.parse((await run("ask", file, ...ask, ...options, "--json")).out))
  const metric = await asJson()
  const us = await asJson("--units", "us")
  expect(metric.sentence).toContain("18-<24 °C")
  expect(us.sentence).toContain("64-<75 °F")
  expect(us.levels.map(({ level }) => level)).toEqual(["<12", "18-<24"])
  expect({ ...us, sentence: "", cautions: [] }).toEqual({ ...metric, sentence: "", cautions: [] })
  const cut = await asJson("--units", "us", "--cuts", "15")
  expect(cut.levels.map(({ level }) => level)).toEqual(["<15", ">=15"])
  // 15 degC = 59 degF: NIST SP 811 (2008) B.9 (from memory).
  expect(cut.sentence).toContain("59.0 °F")
})

test("rods are told as counts, and stay cuts as JSON", async () => {
  const file = await logbook()
  const { out } = await run("ask", file, "--outcome", "landed_rate", "--by", "rods")
  expect(out).toMatch(/^2 over 1 /m)
  expect(out).not.toMatch(/<2|-<3/)
  const json = await run("ask", file, "--outcome", "landed_rate", "--by", "rods", "--json")
  expect(AnswerJson.parse(JSON.parse(json.out)).levels.map(({ level }) => level)).toEqual(["<2", "2-<3"])
})

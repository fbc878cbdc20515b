// npm run bench: how long imports, answers and conditions take, as ratios to plain work done in the same run. The seconds are those
// of this machine at this moment; compare the ratios.
import { mkdirSync, mkdtempSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import Database from "better-sqlite3"
import { median } from "simple-statistics"
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus"
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64"
import type { CallContext } from "../../shared/api.ts"
import { ImportSettings } from "../../shared/imports.ts"
import { Ask } from "../../shared/questions.ts"
import type { TableSource } from "../../core/exchange/draft.ts"
import { answerAsk } from "../../core/questions/ask.ts"
import { runImport } from "../../core/service/imports.ts"
import { newBook } from "../../core/service/open.ts"
import { makeService } from "../../core/service/service.ts"
import { benchAnswers } from "./answers.ts"
import { benchConditions } from "./conditions.ts"
import { benchDay } from "./day.ts"
import { benchModels } from "./models.ts"
import { addLongDay } from "./sheet.ts"
import { benchWindow } from "./window.ts"

const context: CallContext = { signal: new AbortController().signal, progress: () => undefined }
const folder = mkdtempSync(join(tmpdir(), "stintbook-bench-"))
const settings = ImportSettings.parse({ zone: "America/New_York" })
let files = 0

const head =
  "trip,start,end,rods,angler,spot,lure class,pause_s,water_temp_c,tide_stage,strikes,hook_ups,landed"
const classes = ["jig", "popping cork", "twitch bait", "topwater", "spoon"]
const stages = ["low stand", "rising", "high stand", "falling"]

/** Made-up stints, ten a trip, from a fixed seed: nothing here is anybody's record. */
function table(stints: number): string[][] {
  const generator = xoroshiro128plus(2026)
  const below = (n: number): number => Math.floor(uniformFloat64(generator) * n)
  const day = 86_400_000
  return Array.from({ length: stints }, (_, i) => {
    const trip = Math.floor(i / 10)
    const start =
      Date.UTC(2015, 0, 1, 11) +
      (trip % 4000) * day +
      (i % 10) * 40 * 60_000 +
      Math.floor(trip / 4000) * 3_600_000 * 8
    const strikes = below(4)
    const hooked = below(strikes + 1)
    const iso = (at: number) => new Date(at).toISOString()
    return [
      `T${trip}`,
      iso(start),
      iso(start + (10 + below(28)) * 60_000),
      String(1 + below(3)),
      `angler ${below(3)}`,
      `spot ${below(12)}`,
      classes[below(5)] ?? "",
      String(below(10)),
      String(10 + below(20)),
      stages[below(4)] ?? "",
      String(strikes),
      String(hooked),
      String(below(hooked + 1)),
    ]
  })
}

const source = (rows: readonly string[][]): TableSource => {
  const bytes = new TextEncoder().encode([head, ...rows.map((row) => row.join(","))].join("\n"))
  return {
    name: "stints.csv",
    size: bytes.length,
    bytes: async function* () {
      yield bytes
    },
  }
}

const seconds = async (act: () => unknown): Promise<number> => {
  const start = performance.now()
  await act()
  return (performance.now() - start) / 1000
}

/** The yardstick: sorting a million numbers. */
async function yardstick(): Promise<number> {
  const generator = xoroshiro128plus(1)
  const numbers = Float64Array.from({ length: 1_000_000 }, () => uniformFloat64(generator))
  const times: number[] = []
  for (let i = 0; i < 5; i++) times.push(await seconds(() => numbers.toSorted()))
  return median(times)
}

async function bareInsert(rows: readonly string[][]): Promise<number> {
  const db = new Database(join(folder, `bare-${files++}.db`))
  db.pragma("journal_mode = WAL")
  db.pragma("synchronous = FULL")
  db.exec(
    `CREATE TABLE stints (${head
      .split(",")
      .map((name) => `"${name}" TEXT`)
      .join(", ")}) STRICT`,
  )
  const insert = db.prepare(`INSERT INTO stints VALUES (${head.split(",").fill("?").join(", ")})`)
  const time = await seconds(() => db.transaction(() => rows.forEach((row) => insert.run(row)))())
  db.close()
  return time
}

async function importAndAsk(
  stints: number,
): Promise<{ rows: readonly string[][]; imported: number; asked: [string, number][]; first: number }> {
  const rows = table(stints)
  const book = newBook(join(folder, `book-${files++}.stintbook`))
  const imported = await seconds(() => runImport(book, [source(rows)], settings, context))
  const service = makeService(
    book,
    async (facts, ask) => answerAsk(facts, ask),
    () => undefined,
  )
  const asked: [string, number][] = []
  const cold: number[] = []
  for (const by of ["lure_class", "pause_s", "tide_stage", "all"]) {
    const ask = Ask.parse({ outcome: "landed_rate", by })
    const times: number[] = []
    cold.push(await seconds(() => service["questions.ask"](ask, context)))
    for (let i = 0; i < 5; i++) times.push(await seconds(() => service["questions.ask"](ask, context)))
    asked.push([by, median(times)])
  }
  book.close()
  return { rows, imported, asked, first: cold[0] ?? 0 }
}

const ms = (time: number): string => `${(time * 1000).toFixed(1)} ms`
const stick = await yardstick()
console.log(`Yardstick (sort a million numbers): ${ms(stick)}\n`)
const sizes = (process.argv[2]?.split(",") ?? ["2000", "20000", "100000"]).map(Number)
const results = []
for (const size of sizes) {
  const { rows, imported, asked, first } = await importAndAsk(size)
  const bare = await bareInsert(rows)
  results.push({ size, asked, first })
  console.log(
    `Import of ${size} rows: ${imported.toFixed(2)} s, ${Math.round(size / imported)} rows/s; bare insert of the same ` +
      `rows ${bare.toFixed(3)} s; ratio ${(imported / bare).toFixed(1)}`,
  )
}
console.log(
  "\nask, service warm, asked again with nothing changed, median of 5 (times the yardstick): answers are kept",
)
console.log(`  first after a change: ${results.map(({ size, first }) => `${size}: ${ms(first)}`).join("; ")}`)
for (const [i, [by]] of (results[0]?.asked ?? []).entries()) {
  const cells = results.map(({ size, asked }) => {
    const time = asked[i]?.[1] ?? 0
    return `${size}: ${ms(time)} (${(time / stick).toFixed(2)})`
  })
  const growth = (results[1]?.asked[i]?.[1] ?? 0) / (results[0]?.asked[i]?.[1] ?? 1)
  console.log(`  --by ${by}: ${cells.join("; ")}; growth from 2,000 to 20,000: ${growth.toFixed(1)}x`)
}
benchAnswers(stick)
benchConditions()
await benchModels()
const inWindow = 20_000
const books = join(folder, "books")
mkdirSync(books)
const large = newBook(join(books, "large.stintbook"))
await runImport(large, [source(table(inWindow))], settings, context)
await benchDay(large, folder, inWindow)
large.close()
await addLongDay(join(books, "large.stintbook"))
await benchWindow(books, join(folder, "config"), inWindow)
rmSync(folder, { recursive: true })

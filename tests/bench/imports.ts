import { join } from "node:path"
import Database from "better-sqlite3"
import { median } from "simple-statistics"
import type { CallContext } from "../../shared/api.ts"
import { ImportSettings } from "../../shared/imports.ts"
import { Ask } from "../../shared/questions.ts"
import { answerAsk } from "../../core/questions/ask.ts"
import { runImport } from "../../core/service/imports.ts"
import { newBook } from "../../core/service/open.ts"
import { makeService } from "../../core/service/service.ts"
import { seconds } from "./clock.ts"
import { head, source, table } from "./madeUpTable.ts"

const context: CallContext = { signal: new AbortController().signal, progress: () => undefined }
const settings = ImportSettings.parse({ zone: "America/New_York" })
const sizes = [2000, 20_000, 100_000]
const ms = (time: number): string => `${(time * 1000).toFixed(1)} ms`

/** Makes a logbook of so many made-up stints and returns it, open. */
export async function madeUpBook(file: string, stints: number): Promise<ReturnType<typeof newBook>> {
  const book = newBook(file)
  await runImport(book, [source(table(stints))], settings, context)
  return book
}

/** Prints what an import costs beside a bare insert of the same rows, and answers of the warm service beside the yardstick (seconds). */
export async function benchImports(folder: string, yardstick: number): Promise<void> {
  const results = []
  for (const size of sizes) {
    const rows = table(size)
    const { imported, asked, first } = await importAndAsk(join(folder, `imported-${size}.stintbook`), rows)
    const bare = await bareInsert(join(folder, `bare-${size}.db`), rows)
    results.push({ size, asked, first })
    console.log(
      `Import of ${size} rows: ${imported.toFixed(2)} s, ${Math.round(size / imported)} rows/s; bare insert of the same ` +
        `rows ${bare.toFixed(3)} s; ratio ${(imported / bare).toFixed(1)}`,
    )
  }
  console.log(
    "\nask, service warm, asked again with nothing changed, median of 5 (times the yardstick): answers are kept",
  )
  console.log(
    `  first after a change: ${results.map(({ size, first }) => `${size}: ${ms(first)}`).join("; ")}`,
  )
  for (const [i, [by]] of (results[0]?.asked ?? []).entries()) {
    const cells = results.map(({ size, asked }) => {
      const time = asked[i]?.[1] ?? 0
      return `${size}: ${ms(time)} (${(time / yardstick).toFixed(2)})`
    })
    const growth = (results[1]?.asked[i]?.[1] ?? 0) / (results[0]?.asked[i]?.[1] ?? 1)
    console.log(`  --by ${by}: ${cells.join("; ")}; growth from 2,000 to 20,000: ${growth.toFixed(1)}x`)
  }
}

async function bareInsert(file: string, rows: readonly string[][]): Promise<number> {
  const db = new Database(file)
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
  file: string,
  rows: readonly string[][],
): Promise<{ imported: number; asked: [string, number][]; first: number }> {
  const book = newBook(file)
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
  return { imported, asked, first: cold[0] ?? 0 }
}

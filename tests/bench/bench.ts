import { mkdirSync, mkdtempSync, rmSync } from "node:fs"
import { tmpdir } from "node:os"
import { join } from "node:path"
import { uniformFloat64 } from "pure-rand/distribution/uniformFloat64"
import { xoroshiro128plus } from "pure-rand/generator/xoroshiro128plus"
import { median } from "simple-statistics"
import { benchAnswers } from "./answers.ts"
import { seconds } from "./clock.ts"
import { benchConditions } from "./conditions.ts"
import { benchDay } from "./day.ts"
import { benchImports, madeUpBook } from "./imports.ts"
import { benchModels } from "./models.ts"
import { addLongDay } from "./sheet.ts"
import { benchWindow } from "./window.ts"

// npm run bench -- [PART...]: how long imports, answers, conditions, models, a day's sheet and the window take (all of them where no part is
// named), as ratios to plain work done in the same run. The seconds are those of this machine at this moment; compare the ratios.

const inWindow = 20_000
const folder = mkdtempSync(join(tmpdir(), "stintbook-bench-"))
const stick = await yardstick()

const parts: Readonly<Record<string, () => void | Promise<void>>> = {
  imports: () => benchImports(folder, stick),
  answers: () => benchAnswers(stick),
  conditions: benchConditions,
  models: benchModels,
  window: async () => {
    const books = join(folder, "books")
    mkdirSync(books)
    const file = join(books, "large.stintbook")
    const large = await madeUpBook(file, inWindow)
    await benchDay(large, folder, inWindow)
    large.close()
    await addLongDay(file)
    await benchWindow(books, join(folder, "config"), inWindow)
  },
}

try {
  console.log(`Yardstick (sort a million numbers): ${(stick * 1000).toFixed(1)} ms\n`)
  const named = process.argv.slice(2)
  for (const name of named.length > 0 ? named : Object.keys(parts)) {
    const part = parts[name]
    if (part === undefined)
      throw new Error(`There is no part ${name}: they are ${Object.keys(parts).join(", ")}.`)
    await part()
  }
} finally {
  rmSync(folder, { recursive: true })
}

/** The yardstick: sorting a million numbers. */
async function yardstick(): Promise<number> {
  const generator = xoroshiro128plus(1)
  const numbers = Float64Array.from({ length: 1_000_000 }, () => uniformFloat64(generator))
  const times: number[] = []
  for (let i = 0; i < 5; i++) times.push(await seconds(() => numbers.toSorted()))
  return median(times)
}

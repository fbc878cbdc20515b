import { readFileSync } from "node:fs"
import { join } from "node:path"
import type { Page } from "playwright-core"
import { expect, test } from "vitest"
import { noBrowser } from "./browser.ts"
import { keyboardOf, type Keyboard } from "./keyboard.ts"
import { startProduct } from "./product.ts"
import { storedDay, type StoredStint } from "./storedDay.ts"
import { openSample, openWindow } from "./window.ts"

/** Keys in a plain spreadsheet for day A, and with best-case completion of every word: counted for the design, for scale. */
const spreadsheet = { typed: 1060, completed: 730 }

const columns = ["who", "start", "end", "spot", "presentation", "rods", "came", "readings"] as const
type SheetLine = Partial<Record<(typeof columns)[number], string>>

/** A day by both ways of typing it, what must be stored of it, and how many keys each may take. */
type Day = {
  readonly name: string
  readonly file: string
  /** Null where a day is only typed as a tape. */
  readonly sheet: readonly SheetLine[] | null
  readonly stored: readonly StoredStint[]
  /** Null where nobody has said. */
  readonly most: { readonly sheet: number | null; readonly tape: number | null }
  /** How its trip is begun: with one key for the day before, or in a line of its own. */
  readonly line: string | null
}

const stint = (clock: string, spot: string, presentation: string, came = ""): StoredStint => ({
  clock,
  spot,
  presentation,
  came,
})

const even: Day = {
  name: "A, an even day",
  file: "even.txt",
  most: { sheet: 400, tape: 260 },
  line: null,
  sheet: [
    { start: "620", spot: "md", presentation: "tw", came: "mml rd24,22", readings: "w71 v st wind 6 sw" },
    { start: "705", presentation: "pt/2x3", came: "m rd19" },
    { start: "750", spot: "sb", presentation: "ck", came: "l st15,16,?" },
    { start: "830", presentation: "tw", came: "m st17", readings: "w73" },
    { start: "910", presentation: "ck" },
    { start: "950", spot: "nj", presentation: "p4", came: "gg" },
    { start: "1030", presentation: "sp", came: "m rd26", readings: "w74 wind 9" },
    { start: "1105", presentation: "p4", came: "fl15" },
    { start: "1140", spot: "md", presentation: "tw", came: "st18,14,?" },
    { start: "1225", end: "1300", presentation: "wk", came: "mm st20 rd21" },
  ],
  stored: [
    stint("6:20-7:05", "md", "tw", "missed, missed, lost, rd 24, rd 22"),
    stint("7:05-7:50", "md", "pt", "missed, rd 19"),
    stint("7:50-8:30", "sb", "ck", "lost, st 15, st 16, st ?"),
    stint("8:30-9:10", "sb", "tw", "missed, st 17"),
    stint("9:10-9:50", "sb", "ck"),
    stint("9:50-10:30", "nj", "p4", "2 hung up"),
    stint("10:30-11:05", "nj", "sp", "missed, rd 26"),
    stint("11:05-11:40", "nj", "p4", "fl 15"),
    stint("11:40-12:25", "md", "tw", "st 18, st 14, st ?"),
    stint("12:25-13:00", "md", "wk", "missed, missed, st 20, rd 21"),
  ],
}

/** Lures changed every ten or fifteen minutes, a dead stretch on rock, long gaps. */
const messy: Day = {
  name: "B, a messy day",
  file: "changes.txt",
  most: { sheet: 700, tape: 360 },
  line: null,
  sheet: [
    { start: "610", spot: "md", presentation: "tw", came: "m", readings: "w64" },
    { start: "625", presentation: "pt", came: "mg rd19" },
    { start: "640", presentation: "pk", came: "g" },
    { start: "650", presentation: "p4", came: "mm" },
    { start: "705", spot: "sb", presentation: "ck", came: "l st14" },
    { start: "720", presentation: "tw" },
    { start: "730", presentation: "pt", came: "m st15" },
    { start: "745", presentation: "ck" },
    { start: "755", end: "805", presentation: "sp" },
    { start: "850", spot: "nj", presentation: "p3", came: "gg" },
    { start: "900", presentation: "p4", came: "ggk" },
    { start: "910", presentation: "pb", came: "g" },
    { start: "920", presentation: "p3", came: "gg" },
    { start: "930", presentation: "sp", came: "f" },
    { start: "945", presentation: "pk", came: "g" },
    { start: "1000", end: "1010", presentation: "ck" },
    { start: "1110", spot: "he", presentation: "pt", came: "m rd22" },
    { start: "1125", presentation: "wk", came: "mm" },
    { start: "1135", presentation: "tw", came: "m fl13" },
    { start: "1150", presentation: "ck" },
    { start: "1200", presentation: "pl", came: "m" },
    { start: "1215", spot: "od", presentation: "pt", came: "rd17,18" },
    { start: "1230", presentation: "p4", came: "g" },
    { start: "1240", presentation: "tw", came: "l" },
    { start: "1255", presentation: "ck", came: "m st16" },
    { start: "1310", end: "1320", presentation: "sp" },
    { start: "1430", spot: "md", presentation: "tw", came: "mm st15" },
    { start: "1445", end: "1500", presentation: "wk", came: "m rd25" },
  ],
  stored: [
    stint("6:10-6:25", "md", "tw", "missed"),
    stint("6:25-6:40", "md", "pt", "missed, rd 19, 1 hung up"),
    stint("6:40-6:50", "md", "pk", "1 hung up"),
    stint("6:50-7:05", "md", "p4", "missed, missed"),
    stint("7:05-7:20", "sb", "ck", "lost, st 14"),
    stint("7:20-7:30", "sb", "tw"),
    stint("7:30-7:45", "sb", "pt", "missed, st 15"),
    stint("7:45-7:55", "sb", "ck"),
    stint("7:55-8:05", "sb", "sp"),
    stint("8:50-9:00", "nj", "p3", "2 hung up"),
    stint("9:00-9:10", "nj", "p4", "2 hung up, 1 lures lost"),
    stint("9:10-9:20", "nj", "pb", "1 hung up"),
    stint("9:20-9:30", "nj", "p3", "2 hung up"),
    stint("9:30-9:45", "nj", "sp", "1 follows"),
    stint("9:45-10:00", "nj", "pk", "1 hung up"),
    stint("10:00-10:10", "nj", "ck"),
    stint("11:10-11:25", "he", "pt", "missed, rd 22"),
    stint("11:25-11:35", "he", "wk", "missed, missed"),
    stint("11:35-11:50", "he", "tw", "missed, fl 13"),
    stint("11:50-12:00", "he", "ck"),
    stint("12:00-12:15", "he", "pl", "missed"),
    stint("12:15-12:30", "od", "pt", "rd 17, rd 18"),
    stint("12:30-12:40", "od", "p4", "1 hung up"),
    stint("12:40-12:55", "od", "tw", "lost"),
    stint("12:55-13:10", "od", "ck", "missed, st 16"),
    stint("13:10-13:20", "od", "sp"),
    stint("14:30-14:45", "md", "tw", "missed, missed, st 15"),
    stint("14:45-15:00", "md", "wk", "missed, rd 25"),
  ],
}

/** The same day noted by ten-minute ticks: a mark a tick, so that its stints end at full ticks. */
const strips: Day = {
  name: "B, the messy day in ten-minute strips",
  file: "changes-strips.txt",
  most: { sheet: null, tape: 260 },
  line: null,
  sheet: null,
  stored: [
    stint("6:10-6:20", "md", "tw", "missed"),
    stint("6:20-6:30", "md", "pt", "missed, rd 19"),
    stint("6:30-6:50", "md", "pk", "1 hung up"),
    stint("6:50-7:10", "md", "p4", "missed, missed"),
    stint("7:10-7:20", "sb", "ck", "lost, st 14"),
    stint("7:20-7:30", "sb", "tw"),
    stint("7:30-7:40", "sb", "pt", "missed, st 15"),
    stint("7:40-8:00", "sb", "ck"),
    stint("8:00-8:10", "sb", "sp"),
    stint("8:50-9:00", "nj", "p3", "2 hung up"),
    stint("9:00-9:20", "nj", "p4", "2 hung up, 1 lures lost"),
    stint("9:20-9:30", "nj", "pb", "1 hung up"),
    stint("9:30-9:40", "nj", "p3", "2 hung up"),
    stint("9:40-9:50", "nj", "sp", "1 follows"),
    stint("9:50-10:00", "nj", "pk", "1 hung up"),
    stint("10:00-10:10", "nj", "ck"),
    stint("11:10-11:20", "he", "pt", "missed, rd 22"),
    stint("11:20-11:40", "he", "wk", "missed, missed"),
    stint("11:40-12:00", "he", "tw", "missed, fl 13"),
    stint("12:00-12:10", "he", "ck"),
    stint("12:10-12:20", "he", "pl"),
    stint("12:20-12:30", "od", "pt", "missed, rd 17"),
    stint("12:30-12:50", "od", "p4", "1 hung up"),
    stint("12:50-13:00", "od", "tw", "lost"),
    stint("13:00-13:20", "od", "ck", "missed, st 16"),
    stint("13:20-13:40", "od", "sp"),
    stint("14:30-14:40", "md", "tw", "missed, missed, st 15"),
    stint("14:40-15:00", "md", "wk", "missed, rd 25"),
  ],
}

/** Two anglers in lanes of their own, and for half an hour together. */
const lanes: Day = {
  name: "C, two anglers in lanes",
  file: "pair.txt",
  most: { sheet: null, tape: null },
  line: "yesterday tob nel",
  sheet: [
    { who: "tob", start: "620", spot: "md", presentation: "tw", came: "m rd24", readings: "w70 v st" },
    { who: "nel", start: "620", spot: "md", presentation: "ck", came: "l st15,16" },
    { who: "tob", start: "700", end: "800", presentation: "pt", came: "g" },
    { who: "nel", start: "710", end: "800", presentation: "p4", came: "m" },
    { who: "all", start: "815", end: "845", spot: "sb", presentation: "sp", came: "f" },
    { who: "tob", start: "900", end: "1000", spot: "md", presentation: "wk", came: "mm st18" },
    { who: "nel", start: "900", end: "1000", spot: "md", presentation: "ck", came: "st14,?" },
  ],
  stored: [
    stint("nel 6:20-7:10", "md", "ck", "lost, st 15, st 16"),
    stint("tob 6:20-7:00", "md", "tw", "missed, rd 24"),
    stint("tob 7:00-8:00", "md", "pt", "1 hung up"),
    stint("nel 7:10-8:00", "md", "p4", "missed"),
    stint("all 8:15-8:45 x2", "sb", "sp", "1 follows"),
    stint("nel 9:00-10:00", "md", "ck", "st 14, st ?"),
    stint("tob 9:00-10:00", "md", "wk", "missed, missed, st 18"),
  ],
}

const tapeOf = (file: string): string =>
  readFileSync(join(import.meta.dirname, "../data/days", file), "utf8").trim()

/** Types a sheet as one would: Tab through a row to its last cell, then Enter to begin the next. */
async function typeSheet(keyboard: Keyboard, lines: readonly SheetLine[]): Promise<void> {
  const several = lines.some(({ who }) => who !== undefined)
  if (several) await keyboard.press("ArrowLeft")
  const shown = columns.slice(several ? 0 : 1)
  for (const line of lines) {
    const last = shown.findLastIndex((column) => line[column] !== undefined)
    for (const [i, column] of shown.slice(0, last + 1).entries())
      await keyboard.type(`${line[column] ?? ""}${i < last ? "\t" : "\n"}`)
  }
}

/** Opens the sample, and begins a day by keys alone; they are counted from there. */
async function begin({ line }: Day) {
  const { link, folder } = await startProduct()
  const { page, complaints } = await openWindow(link, { locale: "en-US" })
  await openSample(page)
  await page.keyboard.press("Alt+1")
  await page.locator("[data-trip]").first().waitFor()
  const keyboard = keyboardOf(page)
  if (line === null) await keyboard.press("y")
  else {
    await keyboard.press("n")
    await keyboard.type(`${line}\n`)
  }
  await page.locator(".day-grid td:focus").waitFor()
  return { page, complaints, keyboard, file: join(folder, "sample.stintbook") }
}

async function isStored(page: Page, file: string, { stored }: Day): Promise<void> {
  await expect.poll(() => storedDay(file), { timeout: 60_000 }).toEqual(stored)
  await page.getByText(/Saved\.$/).waitFor()
}

const budget = (most: number | null): string => (most === null ? "" : ` (at most ${most})`)

for (const day of [even, messy, lanes]) {
  const { sheet, most } = day
  if (sheet === null) continue
  test.skipIf(noBrowser)(
    `day ${day.name}, in the sheet`,
    async () => {
      const { page, complaints, keyboard, file } = await begin(day)
      await typeSheet(keyboard, sheet)
      await isStored(page, file, day)
      console.log(
        `Day ${day.name}: ${keyboard.keys()} keys in the sheet${budget(most.sheet)}; day A in a plain spreadsheet takes about ${spreadsheet.typed}, ${spreadsheet.completed} with best-case completion.`,
      )
      expect(keyboard.keys()).toBeLessThanOrEqual(most.sheet ?? Infinity)
      expect(complaints).toEqual([])
    },
    150_000,
  )
}

for (const day of [even, messy, strips, lanes]) {
  test.skipIf(noBrowser)(
    `day ${day.name}, on the tape`,
    async () => {
      const { page, complaints, keyboard, file } = await begin(day)
      await keyboard.press("Alt+t")
      await page.locator(".tape-text:focus").waitFor()
      await keyboard.type(tapeOf(day.file))
      await isStored(page, file, day)
      console.log(`Day ${day.name}: ${keyboard.keys()} keys on the tape${budget(day.most.tape)}.`)
      expect(keyboard.keys()).toBeLessThanOrEqual(day.most.tape ?? Infinity)
      expect(complaints).toEqual([])
    },
    150_000,
  )
}

import { readFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { noBrowser } from "./browser.ts"
import { keyboardOf, type Keyboard } from "./keyboard.ts"
import { startProduct } from "./product.ts"
import { storedDay, type StoredStint } from "./storedDay.ts"
import { openWindow } from "./window.ts"

/** Keys in a plain spreadsheet for day A, and with best-case completion of every word: counted for the design, for scale. */
const spreadsheet = { typed: 1060, completed: 730 }

const columns = ["start", "end", "spot", "presentation", "rods", "came", "readings"] as const
type SheetLine = Partial<Record<(typeof columns)[number], string>>

/** A day by both ways of typing it, what must be stored of it, and how many keys each may take. */
type Day = {
  readonly name: string
  readonly file: string
  readonly sheet: readonly SheetLine[]
  readonly stored: readonly StoredStint[]
  readonly most: { readonly sheet: number; readonly tape: number }
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

const tapeOf = (file: string): string =>
  readFileSync(join(import.meta.dirname, "../data/days", file), "utf8").trim()

/** Types a sheet as one would: Tab through a row to its last cell, then Enter to begin the next. */
async function typeSheet(keyboard: Keyboard, lines: readonly SheetLine[]): Promise<void> {
  for (const line of lines) {
    const last = columns.findLastIndex((column) => line[column] !== undefined)
    for (const [i, column] of columns.slice(0, last + 1).entries())
      await keyboard.type(`${line[column] ?? ""}${i < last ? "\t" : "\n"}`)
  }
}

async function newDay() {
  const { link, folder } = await startProduct()
  const { page, complaints } = await openWindow(link, { locale: "en-US" })
  await page.getByRole("button", { name: "Open the sample logbook" }).click()
  await page.locator(".said").waitFor()
  const keyboard = keyboardOf(page)
  await keyboard.press("y")
  await page.locator(".day-grid td:focus").waitFor()
  return { page, complaints, keyboard, file: join(folder, "sample.stintbook") }
}

for (const day of [even]) {
  test.skipIf(noBrowser)(`day ${day.name}, in the sheet`, async () => {
    const { page, complaints, keyboard, file } = await newDay()
    await typeSheet(keyboard, day.sheet)
    await expect.poll(() => storedDay(file), { timeout: 20_000 }).toEqual(day.stored)
    await page.getByText(/Saved\.$/).waitFor()
    console.log(
      `Day ${day.name}: ${keyboard.keys()} keys in the sheet (at most ${day.most.sheet}); day A in a plain spreadsheet takes about ${spreadsheet.typed}, ${spreadsheet.completed} with best-case completion.`,
    )
    expect(keyboard.keys()).toBeLessThanOrEqual(day.most.sheet)
    expect(complaints).toEqual([])
  })

  test.skipIf(noBrowser)(`day ${day.name}, on the tape`, async () => {
    const { page, complaints, keyboard, file } = await newDay()
    await keyboard.press("Alt+t")
    await page.locator(".tape-text:focus").waitFor()
    await keyboard.type(tapeOf(day.file))
    await expect.poll(() => storedDay(file), { timeout: 20_000 }).toEqual(day.stored)
    await page.getByText(/Saved\.$/).waitFor()
    console.log(`Day ${day.name}: ${keyboard.keys()} keys on the tape (at most ${day.most.tape}).`)
    expect(keyboard.keys()).toBeLessThanOrEqual(day.most.tape)
    expect(complaints).toEqual([])
  })
}

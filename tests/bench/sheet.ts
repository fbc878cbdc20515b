import type { Browser, Page } from "playwright-core"
import { median, quantile } from "simple-statistics"
import { makeService } from "../../core/service/service.ts"
import { openBook } from "../../core/service/open.ts"
import { add } from "../../core/store/put.ts"
import { plainTrip } from "../unit/store/plainTrip.ts"

/** Stints of the day that is typed in. */
const stints = 60
const keys = 40
const edits = 500

const ms = (time: number): string => `${time.toFixed(1)} ms`
const told = (times: readonly number[]): string =>
  `${ms(median([...times]))}, 95th percentile ${ms(quantile([...times], 0.95))}`

/** Puts a day of 60 stints, with what it names, into the logbook of a file. */
export async function addLongDay(file: string): Promise<void> {
  const book = await openBook(file)
  const trip = book.change((change) => {
    add(change, "spot", { name: "Bench Drain", code: "bd", zone: "America/New_York" })
    add(change, "presentation", { name: "bench tail", code: "bt" })
    add(change, "presentation", { name: "bench cork", code: "bk" })
    add(change, "species", { name: "bench drum", code: "br", length_type: "total" })
    return add(change, "trip", { ...plainTrip, date: "2030-06-01", label: "the long day" })
  })
  const service = makeService(
    book,
    () => Promise.reject(new Error("nothing is asked")),
    () => undefined,
  )
  const context = { signal: new AbortController().signal, progress: () => undefined }
  const clock = (i: number) => `${6 + Math.floor(i / 6)}${String((i % 6) * 10).padStart(2, "0")}`
  const lines = Array.from(
    { length: stints },
    (_, i) => `${clock(i)} ${i === 0 ? "bd " : ""}${i % 2 ? "bk" : "bt"}.m br${20 + (i % 9)}`,
  )
  await service["day.save"]({ trip, was: "", text: [...lines, "1600x"].join("\n") }, context)
  book.close()
}

/**
 * Prints the time from a key to the next painted frame in a sheet of 60 stints, at first and after 500 edits in one sitting,
 * beside the same in a bare field of the same page.
 */
export async function benchSheet(browser: Browser, link: string, what: string): Promise<void> {
  const page = await browser.newPage({ viewport: { width: 1280, height: 800 } })
  await page.goto(link)
  await page.evaluate(() => void (location.hash = "#/files"))
  await page.getByRole("button", { name: "large.stintbook" }).click()
  const row = page.getByRole("row").filter({ hasText: "the long day" })
  await row.waitFor()
  await row.click()
  await page.getByRole("heading", { level: 1, name: /the long day/ }).waitFor()
  await page.keyboard.press("Alt+d")
  await page.locator(".day-grid td:focus").waitFor()
  await page.waitForFunction(
    (wanted) => document.querySelectorAll(".day-grid tbody tr[role=row]").length > wanted,
    stints - 1,
  )
  const first = await keyTimes(page)
  await sitting(page)
  const after = await keyTimes(page)
  const bare = await bareTimes(page)
  console.log(
    `  a key in a sheet of ${stints} stints, ${what}: ${told(first.typed)}; a move ${told(first.moved)}; after ${edits} edits ` +
      `${told(after.typed)}, a move ${told(after.moved)}; yardstick, a key in a bare field: ${told(bare)}; ` +
      `${(quantile(first.typed, 0.95) / quantile(bare, 0.95)).toFixed(1)} and ${(quantile(after.typed, 0.95) / quantile(bare, 0.95)).toFixed(1)} times`,
  )
  await page.close()
}

/** Has the page note, for every key, how long it is until the frame after it is painted. */
async function watch(page: Page): Promise<void> {
  await page.evaluate(() => {
    const times: number[] = []
    Object.assign(window, { keyTimes: times })
    window.addEventListener(
      "keydown",
      (event) => {
        const begun = event.timeStamp
        requestAnimationFrame(() => {
          const channel = new MessageChannel()
          channel.port1.onmessage = () => times.push(performance.now() - begun)
          channel.port2.postMessage(null)
        })
      },
      { capture: true },
    )
  })
}

async function taken(page: Page): Promise<number[]> {
  return page.evaluate(() => {
    const kept: unknown = Reflect.get(window, "keyTimes")
    return Array.isArray(kept) ? kept.splice(0).map(Number) : []
  })
}

async function keyTimes(page: Page): Promise<{ typed: number[]; moved: number[] }> {
  await watchOnce(page)
  await page.keyboard.press("Control+Home")
  await page.waitForTimeout(500)
  await taken(page)
  for (let i = 0; i < keys; i++) {
    await page.keyboard.press(i % 2 ? "ArrowUp" : "ArrowDown")
    await page.waitForTimeout(30)
  }
  const moved = await taken(page)
  await page.keyboard.press("End")
  await page.keyboard.press("ArrowLeft")
  await taken(page)
  for (let i = 0; i < keys; i++) {
    await page.keyboard.press(String.fromCharCode(97 + (i % 26)))
    await page.waitForTimeout(30)
  }
  const typed = await taken(page)
  await page.keyboard.press("Escape")
  return { typed, moved }
}

const watched = new WeakSet<Page>()
async function watchOnce(page: Page): Promise<void> {
  if (watched.has(page)) return
  watched.add(page)
  await watch(page)
}

/** Changes the notes of one row after the other, each kept as an act of its own. */
async function sitting(page: Page): Promise<void> {
  await page.keyboard.press("Control+Home")
  await page.keyboard.press("End")
  await page.keyboard.press("ArrowLeft")
  for (let i = 0; i < edits; i++) {
    await page.keyboard.type(String(i))
    await page.keyboard.press("Enter")
    if (i % stints === stints - 2) {
      await page.keyboard.press("Control+ArrowUp")
      await page.getByText(/Saved\.$/).waitFor({ timeout: 120_000 })
    }
  }
  await page.getByText(/Saved\.$/).waitFor({ timeout: 120_000 })
}

async function bareTimes(page: Page): Promise<number[]> {
  await page.evaluate(() => {
    const field = document.createElement("input")
    field.id = "bare"
    document.body.append(field)
    field.focus()
  })
  await taken(page)
  for (let i = 0; i < keys; i++) {
    await page.keyboard.press(String.fromCharCode(97 + (i % 26)))
    await page.waitForTimeout(30)
  }
  return taken(page)
}

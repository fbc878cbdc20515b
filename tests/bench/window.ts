import { spawn } from "node:child_process"
import { readdirSync, readFileSync } from "node:fs"
import { join } from "node:path"
import { gzipSync } from "node:zlib"
import { chromium, type Browser, type Page } from "playwright-core"
import { median } from "simple-statistics"
import { findBrowser } from "../../electron/appWindow.ts"
import { thisSystem } from "../../electron/folders.ts"
import { buildPage } from "../../electron/setup.mjs"
import { benchQuestions, oneWord } from "./question.ts"
import { benchSheet } from "./sheet.ts"

const root = join(import.meta.dirname, "../..")
const rounds = 5
const link = /http:\/\/127\.0\.0\.1:\d+\/enter\/[\w-]+/

const ms = (time: number): string => `${Math.round(time)} ms`
const kB = (bytes: number): string => `${Math.round(bytes / 1000)} kB`

/**
 * Prints how long the window takes beside the same browser's time for a page with one word, and Node's for an empty program,
 * in one run; and what is loaded first. `books`: a folder of logbooks, one of them `large.stintbook` of `stints` stints.
 */
export async function benchWindow(books: string, config: string, stints: number): Promise<void> {
  buildPage()
  console.log("\nThe window, each a median of 5")
  sizes()
  const executablePath = findBrowser(thisSystem())
  if (executablePath === null) {
    console.log("  the rest needs a browser, and none is on the path")
    return
  }
  const browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu"] })
  try {
    await opening(browser, books, config)
    await asking(browser, books, config, stints)
    const host = await startHost(books, `${config}-sheet`)
    try {
      await benchSheet(browser, host.link, `in a logbook of ${stints}`)
    } finally {
      await host.end()
    }
  } finally {
    await browser.close()
  }
}

/** The bundles that the first page loads, and those that come with the first chart. */
function sizes(): void {
  const assets = join(root, "dist/renderer/assets")
  const html = readFileSync(join(root, "dist/renderer/index.html"), "utf8")
  const named = (ending: string) => readdirSync(assets).filter((name) => name.endsWith(ending))
  const weigh = (names: readonly string[]) => {
    const all = names.map((name) => readFileSync(join(assets, name)))
    const bytes = all.reduce((sum, file) => sum + file.length, 0)
    const packed = all.reduce((sum, file) => sum + gzipSync(file).length, 0)
    return `${kB(bytes)} (${kB(packed)} gzip)`
  }
  const first = named(".js").filter((name) => html.includes(name))
  const later = named(".js").filter((name) => !html.includes(name))
  const react = readFileSync(join(root, "node_modules/react-dom/cjs/react-dom-client.production.js"))
  console.log(
    `  first bundle: ${weigh(first)}, with styles ${weigh(named(".css"))}; later, charts and licences: ${weigh(later)}`,
  )
  console.log(`  yardstick: react-dom's own file ${kB(react.length)} (${kB(gzipSync(react).length)} gzip)`)
}

type Host = { readonly link: string; readonly startedMs: number; readonly end: () => Promise<void> }

async function startHost(folder: string, config: string): Promise<Host> {
  const begun = performance.now()
  const host = spawn(
    process.execPath,
    [join(root, "electron/launch.mjs"), "--no-window", `--folder=${folder}`, `--config=${config}`],
    {
      stdio: ["ignore", "pipe", "inherit"],
    },
  )
  const ended = new Promise<void>((resolve) => host.on("close", () => resolve()))
  let said = ""
  for await (const text of host.stdout.setEncoding("utf8")) {
    said += String(text)
    const [address] = link.exec(said) ?? []
    if (address !== undefined)
      return {
        link: address,
        startedMs: performance.now() - begun,
        end: () => {
          host.kill("SIGTERM")
          return ended
        },
      }
  }
  throw new Error(`the host said no address: ${said}`)
}

/** From the command to the first page painted, with everything set up. */
async function opening(browser: Browser, folder: string, config: string): Promise<void> {
  const times: { readonly host: number; readonly paint: number }[] = []
  const bare: number[] = []
  const node: number[] = []
  for (let round = 0; round < rounds; round++) {
    node.push(await emptyNode())
    bare.push(await painted(browser, "data:text/html,<title>x</title>word"))
    const host = await startHost(join(folder, "none"), `${config}-${round}`)
    times.push({ host: host.startedMs, paint: await painted(browser, host.link) })
    await host.end()
  }
  const host = median(times.map((time) => time.host))
  const paint = median(times.map((time) => time.paint))
  const yard = median(node) + median(bare)
  console.log(
    `  start to first paint: ${ms(host + paint)} (${ms(host)} to the address, ${ms(paint)} to the paint); ` +
      `yardstick, an empty Node program and a page of one word: ${ms(yard)}; ${((host + paint) / yard).toFixed(1)} times`,
  )
}

async function emptyNode(): Promise<number> {
  const begun = performance.now()
  await new Promise((resolve) => spawn(process.execPath, ["-e", "0"]).on("close", resolve))
  return performance.now() - begun
}

/** From asking for an address to its first contentful paint. */
async function painted(browser: Browser, address: string): Promise<number> {
  const page = await browser.newPage()
  try {
    const begun = performance.now()
    await page.goto(address, { waitUntil: "commit" })
    await page.waitForFunction(() => performance.getEntriesByName("first-contentful-paint").length > 0)
    return performance.now() - begun
  } finally {
    await page.close()
  }
}

/** From changing a question to its own answer painted, and from opening a trip to its page painted. */
async function asking(browser: Browser, folder: string, config: string, stints: number): Promise<void> {
  const host = await startHost(folder, `${config}-asking`)
  try {
    const page = await browser.newPage({ viewport: { width: 1280, height: 800 } })
    await page.goto(host.link)
    await page.getByRole("button", { name: "Open the sample logbook" }).click()
    await page.locator(".said").waitFor()
    const yard = { word: await oneWord(page, rounds), act: await frameTime(page) }
    await report(page, "the sample", yard)
    await page.evaluate(() => void (location.hash = "#/files"))
    await page.getByRole("button", { name: "large.stintbook" }).click()
    await page.locator("[data-trip]").first().waitFor()
    await report(page, `${stints} stints`, yard)
    await page.close()
  } finally {
    await host.end()
  }
}

/** `yard`: what a click that paints one word takes by the page's clock, and with all that the measuring costs. */
type Yard = { readonly word: number; readonly act: number }

async function report(page: Page, what: string, { word, act }: Yard): Promise<void> {
  const go = (hash: string) => page.evaluate((to) => void (location.hash = to), hash)
  await page.evaluate(() => sessionStorage.clear())
  await go("#/help")
  await page.locator(".said").waitFor({ state: "detached" })
  const first = await changed(page, ".said", () => go("#/produces"))
  const asked = await benchQuestions(page)
  const opened: number[] = []
  for (let row = 0; row < rounds; row++) {
    await go("#/logbook")
    const trip = page.locator("[data-trip]").nth(row + 3)
    await trip.waitFor()
    opened.push(await changed(page, "article h1", () => trip.click()))
  }
  const times = (time: number, of: number) => `${(time / of).toFixed(1)} times`
  console.log(
    `  ${what}: from the click to the new question's answer painted as fished ${ms(asked.unhurried)}, ${ms(asked.hurried)} while the question before is still ` +
      `compared fairly; yardstick, a click that paints one word: ${ms(word)}; ${times(asked.unhurried, word)} and ${times(asked.hurried, word)}`,
  )
  console.log(
    `  ${what}: the page's first answer ${ms(first)}; trip page open ${ms(median(opened))}; ` +
      `yardstick, the click with its measuring: ${ms(act)}; ${times(median(opened), act)}`,
  )
}

/** From an act to the next frame in which the words of an element differ, or it is there. */
async function changed(page: Page, selector: string, act: () => Promise<void>): Promise<number> {
  const before = await page
    .locator(selector)
    .first()
    .textContent({ timeout: 100 })
    .catch(() => null)
  const begun = performance.now()
  await act()
  await page.waitForFunction(
    ([where, old]) => {
      const words = document.querySelector(String(where))?.textContent
      return words !== undefined && words !== null && words !== old
    },
    [selector, before],
    { polling: "raf" },
  )
  return performance.now() - begun
}

/** What an act that only paints takes, with all that the measuring itself costs. */
async function frameTime(page: Page): Promise<number> {
  await page.evaluate(() => {
    const button = document.createElement("button")
    button.id = "yardstick"
    button.textContent = "before"
    button.addEventListener("click", () => (button.textContent = String(performance.now())))
    document.body.prepend(button)
  })
  const times: number[] = []
  for (let round = 0; round < rounds; round++)
    times.push(await changed(page, "#yardstick", () => page.locator("#yardstick").click()))
  await page.evaluate(() => document.getElementById("yardstick")?.remove())
  return median(times)
}

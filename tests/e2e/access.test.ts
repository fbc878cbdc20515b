import { readFileSync } from "node:fs"
import { join } from "node:path"
import type { Page } from "playwright-core"
import { expect, test } from "vitest"
import { noBrowser } from "./browser.ts"
import { startProduct } from "./product.ts"
import { expectAccessible, openSample, openWindow, visit } from "./window.ts"

type Look = {
  readonly name: string
  readonly width: number
  readonly height: number
  readonly media: Parameters<Page["emulateMedia"]>[0]
  readonly text?: "very large"
  /** What axe looks for in it: everything, or what colours and width change of a page looked through before; null where it is only
   *  measured, its colours and words being those of another. */
  readonly audited: readonly string[] | null
}
/** 1024 by 700 at 200% zoom is 512 by 350, as the page sees it. */
const looks: readonly Look[] = [
  { name: "light", width: 1280, height: 800, media: { colorScheme: "light" }, audited: [] },
  {
    name: "dark, narrow",
    width: 420,
    height: 800,
    media: { colorScheme: "dark" },
    audited: ["color-contrast", "target-size", "scrollable-region-focusable"],
  },
  { name: "light at 200%", width: 512, height: 350, media: { colorScheme: "light" }, audited: null },
  {
    name: "the system's colours",
    width: 1920,
    height: 1200,
    media: { colorScheme: "dark", forcedColors: "active" },
    audited: null,
  },
  { name: "very large text, narrow", width: 420, height: 800, media: {}, text: "very large", audited: null },
]
const track = join(import.meta.dirname, "../data/tracks/track-three-spots.gpx")
const screens = [
  ["#/produces", ".drawn svg"],
  ["#/logbook", "[role=grid] [role=row]"],
  ["#/tackle", "[role=grid] [role=row]"],
  ["#/spots", "[role=grid] [role=row]"],
  ["#/roster", "table"],
  ["#/history", "h2"],
  ["#/tape-help", "table"],
  ["#/files", "h2"],
  ["#/settings", "h2"],
  ["#/help", "table"],
  ["#/about", "h2"],
] as const

test.skipIf(noBrowser)(
  "axe finds nothing on any screen in any look, and none is too wide",
  async () => {
    const { link } = await startProduct()
    const { page, complaints } = await openWindow(link)
    await page.getByRole("button", { name: "Open the sample logbook" }).waitFor()
    await expectAccessible(page, "first run")
    await openSample(page)
    await visit(page, "#/files")
    await page.getByLabel("Tables, station files or tracks").setInputFiles(track)
    await page.getByRole("button", { name: "Bring it in" }).click()
    await page.getByText("1 track.").waitFor()
    await visit(page, "#/logbook")
    await page.locator("[data-trip]").first().waitFor()
    await page.getByRole("row").filter({ hasText: "Heron Edge" }).first().click()
    const trip = new URL(page.url()).hash
    for (const { audited, ...look } of looks) {
      await page.setViewportSize(look)
      await page.emulateMedia({
        colorScheme: null,
        reducedMotion: null,
        forcedColors: null,
        contrast: null,
        ...look.media,
      })
      await visit(page, "#/settings")
      await page.getByText(look.text ?? "normal", { exact: true }).click()
      for (const [hash, shown] of [
        ...screens,
        [trip, ".page-strip svg"] as const,
        [`${trip}/sheet`, ".day-grid"] as const,
        [`${trip}/tape`, ".tape-text"] as const,
        [`${trip}/fish`, ".day-grid"] as const,
        [`${trip}/log`, ".running-main"] as const,
        [`${trip}/card`, ".trip-card"] as const,
      ]) {
        await visit(page, hash)
        await page.locator(shown).first().waitFor()
        if (audited !== null) await expectAccessible(page, `${hash} ${look.name}`, audited)
        expect(await overflows(page), `${hash} is wider than its window: ${look.name}`).toBe(false)
      }
    }
    expect(complaints).toEqual([])
  },
  600_000,
)

const overflows = (page: Page): Promise<boolean> =>
  page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth + 1)

const hash = (page: Page): string => new URL(page.url()).hash

test.skipIf(noBrowser)(
  "every screen is reached and every word of the question changed without the mouse",
  async () => {
    const { link } = await startProduct()
    const { page, complaints } = await openWindow(link)
    await openSample(page, "keyboard")
    const before = await page.locator(".said").textContent()
    await page.getByRole("button", { name: /Compared by/ }).focus()
    await page.keyboard.press("Enter")
    await page.getByRole("listbox").waitFor()
    await page.keyboard.type("tide")
    await page.keyboard.press("Enter")
    await expect.poll(() => page.locator(".said").textContent(), { timeout: 20_000 }).not.toBe(before)
    for (const [key, to] of [
      ["Alt+1", "#/logbook"],
      ["Alt+8", "#/files"],
      ["Alt+2", "#/tackle"],
      ["Alt+3", "#/spots"],
      ["Alt+4", "#/produces"],
      ["Control+,", "#/settings"],
      ["F1", "#/help"],
      ["Shift+F1", "#/about"],
    ] as const) {
      await page.keyboard.press(key)
      await expect.poll(() => hash(page)).toBe(to)
      // Tab goes on from the new screen's beginning.
      if (to !== "#/logbook") await page.waitForFunction(() => document.activeElement?.id === "screen")
    }
    await page.keyboard.press("Control+k")
    await page.getByRole("menuitem").first().waitFor()
    await page.keyboard.type("files")
    await page.keyboard.press("Enter")
    await expect.poll(() => hash(page)).toBe("#/files")
    expect(complaints).toEqual([])
  },
)

test.skipIf(noBrowser)(
  "what belongs to the page of files can be done from any page, by its key",
  async () => {
    const { link } = await startProduct()
    const { page, complaints } = await openWindow(link)
    await openSample(page, "keyboard")
    const [chooser] = await Promise.all([page.waitForEvent("filechooser"), page.keyboard.press("Alt+i")])
    expect(chooser.isMultiple()).toBe(true)
    expect(hash(page)).toBe("#/files")
    await page.keyboard.press("F1")
    await page.getByRole("heading", { name: "Help" }).waitFor()
    await page.keyboard.press("Alt+b")
    await page.getByText("Backed up.").waitFor()
    await page.keyboard.press("Alt+4")
    await page.locator(".said").waitFor()
    const [table] = await Promise.all([page.waitForEvent("download"), page.keyboard.press("Alt+e")])
    expect(readFileSync(await table.path(), "utf8")).toMatch(/^trip,/)
    await page.keyboard.press("F1")
    await page.getByRole("heading", { name: "Help" }).waitFor()
    await page.keyboard.press("Alt+n")
    await page.getByRole("textbox", { name: "Name" }).waitFor()
    await page.keyboard.type("mine")
    await page.keyboard.press("Enter")
    await page.getByText("mine.stintbook, saved").waitFor()
    // What makes no sense here is not offered: there is no answer on this page.
    await page.keyboard.press("Control+k")
    await page.getByRole("menuitem", { name: /Back up now/ }).waitFor()
    expect(await page.getByRole("menuitem", { name: /Copy the answer/ }).count()).toBe(0)
    expect(complaints).toEqual([])
  },
)

test.skipIf(noBrowser)("a file dropped on any page is looked at on the page of files", async () => {
  const { link } = await startProduct()
  const { page, complaints } = await openWindow(link)
  await page.getByRole("button", { name: "New logbook" }).click()
  await page.keyboard.press("Enter")
  await page.getByText("my logbook.stintbook, saved").waitFor()
  await visit(page, "#/help")
  await page.evaluate(() => {
    const dropped = new DataTransfer()
    dropped.items.add(new File(["date,hours,landed\n2024-05-11,2,1\n"], "days.csv"))
    const event = { bubbles: true, cancelable: true, dataTransfer: dropped }
    document.body.dispatchEvent(new DragEvent("drop", event))
  })
  await page.getByText("days.csv would add 1 stint on 1 trip.").waitFor()
  expect(complaints).toEqual([])
})

test.skipIf(noBrowser)("a newcomer begins with a table, which becomes a logbook of its name", async () => {
  const { link } = await startProduct()
  const { page, complaints } = await openWindow(link)
  const [chooser] = await Promise.all([
    page.waitForEvent("filechooser"),
    page.getByRole("button", { name: "Begin with a table" }).click(),
  ])
  const buffer = Buffer.from("date,hours,landed,depth\n2024-05-11,2,1,6\n")
  await chooser.setFiles({ name: "river days.csv", mimeType: "text/csv", buffer })
  await page.getByText("river days.stintbook, saved").waitFor()
  // One column may be either of two depths, and says no unit: both are chosen, and kept for the next such table.
  await page.getByText(/the column "depth" may be fished_depth_m or water_depth_m/).waitFor()
  await page.getByRole("button", { name: /Read depth as/ }).click()
  await page.getByRole("option", { name: "water depth, ft", exact: true }).click()
  await page.getByText("river days.csv would add 1 stint on 1 trip.").waitFor()
  await page.getByRole("button", { name: "Bring it in" }).click()
  await page.getByText("Added 1 stint on 1 trip.").waitFor()
  await visit(page, "#/logbook")
  await page.getByRole("row").first().click()
  await page
    .getByText(/^6(\.0+)? ft/)
    .first()
    .waitFor()
  expect(complaints).toEqual([])
})

test.skipIf(noBrowser)("a caution that names a trip leads to it", async () => {
  const { link } = await startProduct()
  const { page, complaints } = await openWindow(link)
  await page.getByRole("button", { name: "Open the sample logbook" }).click()
  await page.getByRole("link", { name: "Open the trip" }).click()
  await page.getByRole("heading", { level: 1, name: /October 24, 2025/ }).waitFor()
  await page.goBack()
  await page.locator(".said").waitFor()
  expect(complaints).toEqual([])
})

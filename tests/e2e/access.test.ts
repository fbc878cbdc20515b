import type { Page } from "playwright-core"
import { expect, test } from "vitest"
import { noBrowser } from "./browser.ts"
import { startProduct } from "./product.ts"
import { expectAccessible, openWindow, visit } from "./window.ts"

const looks = [
  { colorScheme: "light", viewport: { width: 1280, height: 860 } },
  { colorScheme: "dark", viewport: { width: 420, height: 860 } },
] as const
const screens = [
  ["#/produces", ".drawn svg"],
  ["#/logbook", "[role=grid] [role=row]"],
  ["#/files", "h2"],
  ["#/settings", "h2"],
  ["#/help", "table"],
  ["#/about", "h2"],
] as const

test.skipIf(noBrowser).each(looks)(
  "axe finds nothing on any screen: $colorScheme, $viewport.width wide",
  async (look) => {
    const { link } = await startProduct()
    const { page, complaints } = await openWindow(link, look)
    await page.getByRole("button", { name: "Open the sample logbook" }).waitFor()
    await expectAccessible(page, "first run")
    await page.getByRole("button", { name: "Open the sample logbook" }).click()
    await page.locator(".said").waitFor()
    for (const [hash, shown] of screens) {
      await visit(page, hash)
      await page.locator(shown).first().waitFor()
      await expectAccessible(page, hash)
      expect(await overflows(page), `${hash} is wider than its window`).toBe(false)
    }
    await visit(page, "#/logbook")
    await page.locator("[role=grid] [role=row]").first().focus()
    await page.keyboard.press("ArrowDown")
    await page.keyboard.press("Enter")
    await expect.poll(() => page.url()).toMatch(/#\/logbook\/./)
    await page.locator("h1").first().waitFor()
    await expectAccessible(page, "trip")
    expect(complaints).toEqual([])
  },
)

const overflows = (page: Page): Promise<boolean> =>
  page.evaluate(() => document.documentElement.scrollWidth > document.documentElement.clientWidth + 1)

test.skipIf(noBrowser)(
  "every screen is reached and every word of the question changed without the mouse",
  async () => {
    const { link } = await startProduct()
    const { page, complaints } = await openWindow(link)
    await page.getByRole("button", { name: "Open the sample logbook" }).waitFor()
    await page.keyboard.press("Enter")
    await page.locator(".said").waitFor()
    const before = await page.locator(".said").textContent()
    await page.getByRole("button", { name: /Compared by/ }).focus()
    await page.keyboard.press("Enter")
    await page.getByRole("listbox").waitFor()
    await page.keyboard.type("tide")
    await page.keyboard.press("Enter")
    await expect.poll(() => page.locator(".said").textContent()).not.toBe(before)
    for (const [key, hash] of [
      ["Alt+1", "#/logbook"],
      ["Alt+3", "#/files"],
      ["Alt+2", "#/produces"],
      ["Control+,", "#/settings"],
      ["F1", "#/help"],
      ["Shift+F1", "#/about"],
    ] as const) {
      await page.keyboard.press(key)
      await expect.poll(() => new URL(page.url()).hash).toBe(hash)
    }
    await page.keyboard.press("Control+k")
    await page.getByRole("menuitem").first().waitFor()
    await page.keyboard.type("files")
    await page.keyboard.press("Enter")
    await expect.poll(() => new URL(page.url()).hash).toBe("#/files")
    expect(complaints).toEqual([])
  },
)

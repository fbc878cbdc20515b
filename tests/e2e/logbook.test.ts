import type { Page } from "playwright-core"
import { expect, test } from "vitest"
import { noBrowser } from "./browser.ts"
import { startProduct } from "./product.ts"
import { expectAccessible, openSample, openWindow, visit } from "./window.ts"

async function openLogbook(options: Parameters<typeof openWindow>[1] = {}) {
  const { link } = await startProduct()
  const { page, complaints } = await openWindow(link, options)
  await openSample(page)
  await visit(page, "#/logbook")
  await rows(page).first().waitFor()
  return { page, complaints }
}

const rows = (page: Page) => page.getByRole("grid", { name: "Trips" }).getByRole("row")
const focused = (page: Page) => page.evaluate(() => document.activeElement?.getAttribute("aria-label"))
const scrolled = (page: Page) => page.evaluate(() => window.scrollY)
/** The part of a row's words that is its trip's date, and of a trip's title. */
const dateOf = (words: string | null | undefined) => /^\w+,? [^,:]+(?:, \d{4}|\d{4})/.exec(words ?? "")?.[0]

test.skipIf(noBrowser)("the list draws its strips, and comes back to the row it was left at", async () => {
  const { page, complaints } = await openLogbook()
  await page.locator("[role=row] .drawn svg").first().waitFor()
  const strip = await page.locator("[role=row] [role=img]").first().getAttribute("aria-label")
  expect(strip).toMatch(/^Day strip, .*Tide predicted at Old Tower/)
  // Only the rows in sight are in the page, however many trips there are.
  expect(await rows(page).count()).toBeLessThan(40)

  await page.evaluate(() => window.scrollTo(0, 3000))
  await expect.poll(() => scrolled(page)).toBe(3000)
  // The rows follow the scrolling a little later: take one when it no longer changes.
  let told: string | null = null
  await expect
    .poll(async () => {
      const before = told
      told = await rows(page).nth(6).getAttribute("aria-label")
      return told === before
    })
    .toBe(true)
  await page.getByRole("row", { name: told ?? "", exact: true }).focus()
  const place = await scrolled(page)
  await page.keyboard.press("Enter")
  await expect.poll(() => page.getByRole("heading", { level: 1 }).textContent()).toContain(dateOf(told))
  expect(await scrolled(page)).toBe(0)
  expect(await page.evaluate(() => document.activeElement?.tagName)).toBe("H1")

  await page.getByRole("link", { name: "All trips" }).click()
  await expect.poll(() => focused(page)).toBe(told)
  expect(Math.abs((await scrolled(page)) - place)).toBeLessThan(2)
  await page.keyboard.press("ArrowDown")
  await expect.poll(() => focused(page)).not.toBe(told)
  expect(complaints).toEqual([])
})

test.skipIf(noBrowser)("trips are searched, sorted, and narrowed to a day of the calendar", async () => {
  const { page, complaints } = await openLogbook()
  const tally = page.locator(".logbook-head .question")
  await page.keyboard.press("/")
  await page.keyboard.type("everything ate")
  await expect.poll(() => tally.textContent()).toMatch(/^1 of \d+ trips/)
  expect(await rows(page).first().getAttribute("aria-label")).toMatch(/66 fish$/)
  await page.keyboard.press("Escape")
  await expect.poll(() => tally.textContent()).toMatch(/^\d+ trips, \d+ blank/)

  await page.getByRole("button", { name: /Order/ }).click()
  await page.getByRole("option", { name: "most fish first", exact: true }).click()
  await expect.poll(() => rows(page).first().getAttribute("aria-label")).toMatch(/66 fish$/)

  const day = page
    .getByRole("listbox", { name: /^Days of/ })
    .getByRole("option")
    .first()
  const told = await day.getAttribute("aria-label")
  await day.click()
  await expect.poll(() => rows(page).count()).toBe(1)
  expect(dateOf(await rows(page).first().getAttribute("aria-label"))).toBe(dateOf(told))
  await rows(page).first().click()
  await page.getByRole("heading", { level: 2, name: "Stops and stints" }).waitFor()
  await page.goBack()
  await rows(page).first().waitFor()
  expect(await rows(page).count()).toBe(1)
  await page.getByRole("button", { name: "Show all trips" }).click()
  await expect.poll(() => tally.textContent()).toMatch(/^\d+ trips/)
  expect(complaints).toEqual([])
})

test.skipIf(noBrowser)(
  "a trip is read: its strip, its stints unfolded, its neighbours by their keys",
  async () => {
    const { page, complaints } = await openLogbook({
      colorScheme: "dark",
      viewport: { width: 420, height: 860 },
    })
    await page.keyboard.press("/")
    await page.keyboard.type("everything ate")
    await expect.poll(() => rows(page).count()).toBe(1)
    await page.keyboard.press("Enter")
    await expect.poll(() => focused(page)).toMatch(/66 fish$/)
    await page.keyboard.press("Enter")
    await page.locator(".page-strip svg").waitFor()
    const drawn = await page.locator(".page-strip").textContent()
    for (const words of [/high \d/, /first light/, /Heron/]) expect(drawn).toMatch(words)
    await page.getByText("Predicted tide, not for navigation; wind and rain move real water.").waitFor()
    expect(await page.locator(".legend").textContent()).toContain("spoon")

    const first = page.getByRole("button", { name: /^Stint 1\b/ })
    expect(await first.getAttribute("aria-expanded")).toBe("false")
    await first.focus()
    await page.keyboard.press("Enter")
    expect(await first.getAttribute("aria-expanded")).toBe("true")
    await page
      .getByText(/^landed: spotted seatrout, /)
      .first()
      .waitFor()
    expect(await page.locator(".details").textContent()).toMatch(/Water temperature [\d.]+ °F, /)
    await page.getByRole("button", { name: "The day in words" }).click()
    await page.getByText(/^Tide predicted at Old Tower/).waitFor()
    await expectAccessible(page, "an unfolded trip")

    const title = page.getByRole("heading", { level: 1 })
    const here = (await title.textContent()) ?? ""
    await page.keyboard.press("[")
    await expect.poll(() => title.textContent()).not.toBe(here)
    await page.keyboard.press("]")
    await expect.poll(() => title.textContent()).toBe(here)
    expect(complaints).toEqual([])
  },
)

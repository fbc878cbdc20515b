import type { Page } from "playwright-core"
import { expect, test } from "vitest"
import { noBrowser } from "./browser.ts"
import { startProduct, type Product } from "./product.ts"
import { notesOf, storedDay } from "./storedDay.ts"
import { openSample, openWindow } from "./window.ts"
import { join } from "node:path"

/** The sample, with a trip of yesterday's begun and its sheet ready to be typed in. */
async function newDay(): Promise<{ page: Page; complaints: string[]; product: Product; file: string }> {
  const product = await startProduct()
  const { page, complaints } = await openWindow(product.link, {
    locale: "en-US",
    permissions: ["clipboard-read", "clipboard-write"],
  })
  await openSample(page)
  await page.keyboard.press("y")
  await page.locator(".day-grid td:focus").waitFor()
  return { page, complaints, product, file: join(product.folder, "sample.stintbook") }
}

const came = (file: string): string[] => storedDay(file).map(({ came: what }) => what)
const presentations = (file: string): (string | null)[] =>
  storedDay(file).map(({ presentation }) => presentation)
const saved = (page: Page): Promise<void> => page.getByText(/Saved\.$/).waitFor()

/** Types cells from the cursor on, Tab between them and Enter at the end. */
async function row(page: Page, ...cells: readonly string[]): Promise<void> {
  for (const [i, cell] of cells.entries()) {
    await page.keyboard.type(cell)
    await page.keyboard.press(i < cells.length - 1 ? "Tab" : "Enter")
  }
}

test.skipIf(noBrowser)(
  "a wrong cell stays as typed with its sentence; what is typed and left by a click is kept; undo and redo say what",
  async () => {
    const { page, complaints, file } = await newDay()
    await row(page, "620", "", "md", "tw", "", "m")
    await row(page, "705", "", "", "zz", "", "l")
    const wrong = page.getByRole("gridcell").filter({ hasText: "zz" })
    await wrong.filter({ hasText: /is no code of yours/ }).waitFor()
    // A choice by the first letters of a name.
    await wrong.click()
    await page.keyboard.type("gold")
    await page.getByRole("option", { name: /gold spoon/ }).waitFor()
    await page.getByRole("heading", { level: 1 }).click()
    await expect.poll(() => presentations(file), { timeout: 20_000 }).toEqual(["tw", "sp"])
    await saved(page)
    await page.getByRole("gridcell").first().click()
    await page.keyboard.press("Control+z")
    await page.getByText(/^Undone: /).waitFor()
    await expect.poll(() => presentations(file), { timeout: 20_000 }).not.toEqual(["tw", "sp"])
    await page.keyboard.press("Control+Shift+z")
    await page.getByText(/^Done again: /).waitFor()
    await expect.poll(() => presentations(file), { timeout: 20_000 }).toEqual(["tw", "sp"])
    // Inside a field what was typed is taken back first, and nothing that was kept.
    await page.getByRole("gridcell").filter({ hasText: "md" }).first().dblclick()
    await page.keyboard.type("q")
    await page.keyboard.press("Control+z")
    await page.keyboard.press("Escape")
    expect(presentations(file)).toEqual(["tw", "sp"])
    expect(complaints).toEqual([])
  },
  150_000,
)

test.skipIf(noBrowser)(
  "blocks pass to and from a spreadsheet, fill down, and are emptied and removed",
  async () => {
    const { page, complaints, file } = await newDay()
    const block = "620\t\tmd\ttw\t\tm\n705\t\t\tpt\t\tl\n750\t830\tsb\tck\t\tst15,16\n"
    await page.evaluate((text) => navigator.clipboard.writeText(text), block)
    await page.keyboard.press("Control+v")
    await expect.poll(() => came(file), { timeout: 20_000 }).toEqual(["missed", "lost", "st 15, st 16"])
    await saved(page)
    // Two presentations, marked and filled down from the first.
    const tw = page.getByRole("gridcell", { name: "tw", exact: true })
    await tw.click()
    await page.keyboard.press("Shift+ArrowDown")
    await page.keyboard.press("Control+d")
    await expect.poll(() => presentations(file), { timeout: 20_000 }).toEqual(["tw", "tw", "ck"])
    await page.keyboard.press("Shift+ArrowRight")
    await page.keyboard.press("Control+c")
    expect(await page.evaluate(() => navigator.clipboard.readText())).toMatch(/^tw\t/)
    // One text into both.
    await page.keyboard.press("ArrowLeft")
    await page.keyboard.press("ArrowLeft")
    await tw.first().click()
    await page.keyboard.press("Shift+ArrowDown")
    await page.keyboard.type("sp")
    await page.keyboard.press("Control+Enter")
    await expect.poll(() => presentations(file), { timeout: 20_000 }).toEqual(["sp", "sp", "ck"])
    await saved(page)
    await page.keyboard.press("Control+Delete")
    await expect.poll(() => presentations(file), { timeout: 20_000 }).toEqual(["ck"])
    expect(complaints).toEqual([])
  },
  150_000,
)

test.skipIf(noBrowser)(
  "the sheet is a grid to a screen reader, and Escape, then Tab, leaves it",
  async () => {
    const { page } = await newDay()
    await row(page, "620", "700", "md", "tw", "", "m")
    await saved(page)
    const grid = page.getByRole("grid", { name: "Stints of the day" })
    expect(await grid.getAttribute("aria-rowcount")).toBe("3")
    expect(await grid.getByRole("columnheader", { name: "What came" }).count()).toBe(1)
    await page.keyboard.press("ArrowUp")
    const focused = page.locator(".day-grid td:focus")
    expect(await focused.getAttribute("aria-selected")).toBe("true")
    await page.keyboard.press("F2")
    expect(await page.getByRole("combobox", { name: "Start, row 1" }).inputValue()).toBe("6:20")
    await page.keyboard.press("Escape")
    await page.keyboard.press("Escape")
    await page.keyboard.press("Tab")
    expect(await page.locator(".day-grid td:focus").count()).toBe(0)
  },
  150_000,
)

test.skipIf(noBrowser)(
  "a gap is told and mended by one key",
  async () => {
    const { page, file } = await newDay()
    await row(page, "620", "700", "md", "tw", "", "m")
    await row(page, "720", "800", "", "pt", "", "l")
    await page
      .getByText(/7:00 to 7:20/)
      .first()
      .waitFor()
    await page.keyboard.press("Alt+g")
    await expect
      .poll(() => storedDay(file).map(({ clock }) => clock), { timeout: 20_000 })
      .toEqual(["6:20-7:20", "7:20-8:00"])
  },
  150_000,
)

test.skipIf(noBrowser)(
  "closing the window in the middle of a cell or a line loses nothing",
  async () => {
    const { page, product, file } = await newDay()
    await row(page, "620", "700", "md", "tw", "", "m")
    await saved(page)
    await page.keyboard.press("ArrowUp")
    await page.keyboard.press("End")
    await page.keyboard.press("ArrowLeft")
    await page.keyboard.type("wind turned")
    await page.close({ runBeforeUnload: true })
    const noted = async (): Promise<boolean> => JSON.stringify(notesOf(file)).includes("wind turned")
    await expect.poll(noted, { timeout: 20_000 }).toBe(true)
    expect(product.said()).not.toMatch(/error/i)
  },
  150_000,
)

test.skipIf(noBrowser)(
  "a long line of the tape breaks on a narrow page, is read in full, and ends where it ends",
  async () => {
    const { page, file } = await newDay()
    await page.setViewportSize({ width: 420, height: 800 })
    await page.keyboard.press("Alt+t")
    const tape = page.locator(".tape-text")
    await page.locator(".tape-text:focus").waitFor()
    await page.keyboard.type("620 md tw.mmm rd24,22,19,18.5,17,16.5\n+60 pt.m")
    await page.keyboard.press("Control+Home")
    await page.keyboard.press("End")
    await page.keyboard.type(" st15,16")
    await page.keyboard.press("Home")
    await page.keyboard.press("Shift+End")
    expect(await page.evaluate(() => getSelection()?.toString())).toBe(
      "620 md tw.mmm rd24,22,19,18.5,17,16.5 st15,16",
    )
    // A reading longer than its rows stands in full beneath the tape while its line is at hand.
    await page
      .getByText(/^Line 1: 6:20 to 7:20 .* landed spotted seatrout 15\.0 in and 16\.0 in\.$/)
      .waitFor()
    // Nothing of the text lies out of sight: it breaks where the rows of its reading expect it.
    expect(
      await tape.evaluate((at) => [at.scrollWidth - at.clientWidth, at.scrollHeight - at.clientHeight]),
    ).toEqual([0, 0])
    const rows = await page
      .locator(".tape-mark")
      .first()
      .evaluate((at) => at.clientHeight / 16 / 2.85)
    expect(Math.round(rows)).toBeGreaterThan(1)
    await expect
      .poll(() => came(file), { timeout: 20_000 })
      .toEqual([
        "missed, missed, missed, rd 24, rd 22, rd 19, rd 18.5, rd 17, rd 16.5, st 15, st 16",
        "missed",
      ])
  },
  150_000,
)

test.skipIf(noBrowser)(
  "a line of the tape half typed when the window is closed is there when it is opened again",
  async () => {
    const { page, file } = await newDay()
    await page.keyboard.press("Alt+t")
    await page.locator(".tape-text:focus").waitFor()
    const address = page.url()
    await page.keyboard.type("620 md tw.m\n705 pt.mm rd2")
    // At once: before typing rests, and so before anything of the last line was sent.
    await page.close({ runBeforeUnload: true })
    await expect.poll(() => came(file), { timeout: 20_000 }).toEqual(["missed", "missed, missed, rd 2"])
    const again = await page.context().newPage()
    await again.goto(address)
    await expect
      .poll(() => again.locator(".tape-text").inputValue(), { timeout: 20_000 })
      .toMatch(/^620 md tw\.m\n705 pt\.m+ rd2$/)
  },
  150_000,
)

test.skipIf(noBrowser)(
  "cells typed quickly one after the other are undone one by one, the last first",
  async () => {
    const { page, complaints, file } = await newDay()
    await row(page, "620", "700", "md", "tw", "", "m")
    // No waiting in between: the later cells are typed while the first are being saved, and undo is pressed at once.
    await row(page, "700", "740", "sb", "pt", "", "l")
    for (const _ of [1, 2, 3]) await page.keyboard.press("Control+z")
    const rows = () =>
      storedDay(file).map(({ clock, spot, presentation, came: what }) => [clock, spot, presentation, what])
    // Undone: what came, the presentation, the spot; the clocks stay.
    await expect.poll(rows, { timeout: 20_000 }).toEqual([
      ["6:20-7:00", "md", "tw", "missed"],
      ["7:00-7:40", "md", "tw", ""],
    ])
    for (const _ of [1, 2, 3]) await page.keyboard.press("Control+Shift+z")
    await expect.poll(rows, { timeout: 20_000 }).toEqual([
      ["6:20-7:00", "md", "tw", "missed"],
      ["7:00-7:40", "sb", "pt", "lost"],
    ])
    expect(complaints).toEqual([])
  },
  150_000,
)

test.skipIf(noBrowser)(
  "the running log takes each thing by one key and survives a killed program to the last of them",
  async () => {
    const product = await startProduct()
    const { page, complaints } = await openWindow(product.link, { locale: "en-US" })
    await openSample(page)
    await page.keyboard.press("t")
    await page.locator(".day-grid td:focus").waitFor()
    await page.keyboard.press("Alt+r")
    await page.getByText("Not fishing.").waitFor()
    await page.keyboard.press("Space")
    await page.locator("#running-line:focus").waitFor()
    await page.keyboard.type("md pt")
    await page.keyboard.press("Enter")
    await page.getByText("Nothing yet.").waitFor()
    await page.keyboard.press("m")
    await page.getByText("1 miss.").waitFor()
    await page.keyboard.press("g")
    await page.getByText("1 miss, 1 hang-up.").waitFor()
    await page.keyboard.press("d")
    await page.locator("#running-line:focus").waitFor()
    await page.keyboard.type("rd24")
    await page.keyboard.press("Enter")
    await page.getByText("1 miss, 1 landed, 1 hang-up.").waitFor()
    expect(complaints).toEqual([])
    product.host.kill("SIGKILL")
    await product.ended
    const file = join(product.folder, "sample.stintbook")
    expect(storedDay(file)).toMatchObject([
      { spot: "md", presentation: "pt", came: "missed, rd 24, 1 hung up" },
    ])
  },
  150_000,
)

test.skipIf(noBrowser)(
  "a trip's card prints on one page, black on white",
  async () => {
    const { page, complaints } = await newDay()
    await page.keyboard.press("Alt+k")
    await page.locator(".trip-card tbody tr").first().waitFor()
    for (const [rods, hours] of [
      ["2", "8"],
      ["6", "14"],
    ] as const) {
      await page.getByRole("button", { name: /Rods/ }).click()
      await page.getByRole("option", { name: rods, exact: true }).click()
      await page.getByRole("button", { name: /Hours/ }).click()
      await page.getByRole("option", { name: hours, exact: true }).click()
      await expect.poll(() => page.locator(".trip-card tbody tr").count()).toBe(Number(hours) * 6)
      for (const format of ["A4", "Letter"]) {
        const bytes = (await page.pdf({ format })).toString("latin1")
        // Page objects of the file: ISO 32000-1:2008, 7.7.3.3.
        expect(
          bytes.match(/\/Type\s*\/Page\b(?!s)/g)?.length,
          `${rods} rods, ${hours} hours, ${format}`,
        ).toBe(1)
      }
    }
    expect(complaints).toEqual([])
  },
  150_000,
)

test.skipIf(noBrowser)(
  "what is typed while earlier cells are still on their way is never taken for a change from elsewhere",
  async () => {
    const { page, product, file } = await newDay()
    await row(page, "620", "700", "md", "tw")
    await row(page, "", "", "sb")
    await saved(page)
    const cell = (at: number, column: number) =>
      page.locator(`[data-row="${at}"][data-column="${column}"]`).first()
    product.host.kill("SIGSTOP")
    // The second row's start is carried from the first one's end, which changes before its own arrives.
    await cell(0, 1).click()
    await page.keyboard.type("645")
    await page.keyboard.press("Enter")
    await cell(1, 0).click()
    await page.keyboard.type("710")
    await page.keyboard.press("Enter")
    product.host.kill("SIGCONT")
    await expect
      .poll(() => storedDay(file).map(({ clock }) => clock.split("-")[0]), { timeout: 20_000 })
      .toEqual(["6:20", "7:10"])
    await saved(page)
    expect(storedDay(file)[0]?.clock).toBe("6:20-6:45")
    expect(await page.getByRole("alert").count()).toBe(0)
  },
  150_000,
)

test.skipIf(noBrowser)(
  "two windows on one day see each other's changes",
  async () => {
    const { page, product, file } = await newDay()
    await row(page, "620", "700", "md", "tw", "", "m")
    await saved(page)
    const other = await page.context().newPage()
    await other.goto(new URL(page.url()).href)
    await other.locator(".day-grid").waitFor()
    await other.getByRole("gridcell").filter({ hasText: /^m$/ }).first().click()
    await other.keyboard.type("mm")
    await other.keyboard.press("Enter")
    await expect.poll(() => came(file), { timeout: 20_000 }).toEqual(["missed, missed"])
    await page.getByRole("gridcell").filter({ hasText: /^mm$/ }).first().waitFor()
    expect(product.said()).not.toMatch(/error/i)
  },
  150_000,
)

test.skipIf(noBrowser)(
  "the logbook is searched by conditions, and says how it read them; a deleted trip comes back",
  async () => {
    const { page, complaints } = await newDay()
    await page.keyboard.press("Alt+Shift+Delete")
    await page.getByText("Season calendar").waitFor()
    await page.getByText(/^153 trips/).waitFor()
    await page
      .getByRole("status")
      .filter({ hasText: /Deleted: the trip of .*\. Undo/ })
      .waitFor()
    await page.keyboard.press("Control+z")
    await page.getByText(/^154 trips/).waitFor()
    await page.keyboard.press("Control+Shift+z")
    await page.getByText(/^153 trips/).waitFor()
    await page.keyboard.press("Alt+h")
    await page.getByRole("button", { name: "Bring back" }).first().click()
    await page.getByText("Nothing is deleted.").waitFor()
    await page.keyboard.press("Alt+1")
    await page.getByText(/^154 trips/).waitFor()
    await page.keyboard.press("/")
    await page.keyboard.type("topwater blank")
    await page.getByText(/Narrowed to .topwater blank.: .*without a fish/).waitFor()
    expect(complaints).toEqual([])
  },
  150_000,
)

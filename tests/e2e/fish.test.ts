import { join } from "node:path"
import { expect, test } from "vitest"
import { noBrowser } from "./browser.ts"
import { startProduct } from "./product.ts"
import { storedDay } from "./storedDay.ts"
import { openSample, openWindow } from "./window.ts"

test.skipIf(noBrowser)(
  "all fish of a trip are typed, mended, copied, removed and undone in one list, by the keyboard alone",
  async () => {
    const product = await startProduct()
    const file = join(product.folder, "sample.stintbook")
    const { page, complaints } = await openWindow(product.link, {
      locale: "en-US",
      permissions: ["clipboard-read", "clipboard-write"],
    })
    await openSample(page, "keyboard")
    await page.keyboard.press("y")
    await page.locator(".day-grid td:focus").waitFor()
    await page.keyboard.press("Alt+j")
    await page.getByText("A fish belongs to a stint, and this day has none yet.").waitFor()
    await page.keyboard.press("Alt+t")
    await page.locator(".tape-text:focus").waitFor()
    await page.keyboard.type("620 md tw\n705 pt\n750x")
    await expect.poll(() => storedDay(file).length, { timeout: 20_000 }).toBe(2)

    await page.keyboard.press("Alt+j")
    await page.locator(".day-grid td:focus").waitFor()
    const came = () => storedDay(file).map(({ came: what }) => what)
    const cells = async (...texts: readonly string[]) => {
      for (const [i, text] of texts.entries()) {
        await page.keyboard.type(text)
        await page.keyboard.press(i < texts.length - 1 ? "Tab" : "Enter")
      }
    }
    // Time first: the second stint takes what came at 7:15, the first what came before it.
    await cells("715", "", "", "red", "24", "", "p", "lip", "r")
    await cells("640", "", "m")
    await cells("", "1", "", "st", "16")
    await expect.poll(came, { timeout: 20_000 }).toEqual(["missed, st 16", "rd 24"])
    const grid = page.getByRole("grid", { name: "Strikes of the trip" })
    expect(await grid.getByRole("row").nth(1).getByRole("gridcell").allTextContents()).toEqual([
      "7:15",
      "2 pt",
      "landed",
      "rd",
      "24",
      "",
      "pause",
      "lip",
      "released",
    ])
    // A wrong cell is kept as typed with its sentence until it is mended.
    await page.keyboard.press("Control+Home")
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowRight")
    await page.keyboard.type("zz")
    await page.keyboard.press("Enter")
    await page.getByText('"zz" is no code of yours.').first().waitFor()
    await page.keyboard.press("ArrowUp")
    await page.keyboard.type("fl")
    await page.keyboard.press("Enter")
    await expect.poll(came, { timeout: 20_000 }).toEqual(["missed, st 16", "fl 24"])
    // The row's species and length are copied to a new row, which goes to the stint above it.
    await page.keyboard.press("ArrowUp")
    await page.keyboard.press("Shift+ArrowRight")
    await page.keyboard.press("Control+c")
    expect(await page.evaluate(() => navigator.clipboard.readText())).toBe("fl\t24")
    await page.keyboard.press("ArrowLeft")
    for (let i = 0; i < 3; i++) await page.keyboard.press("ArrowDown")
    await page.keyboard.press("Control+v")
    await expect.poll(came, { timeout: 20_000 }).toEqual(["missed, st 16, fl 24", "fl 24"])
    await page.getByText("4 strikes, 3 landed. Saved.").waitFor()
    await page.keyboard.press("Control+Delete")
    await expect.poll(came, { timeout: 20_000 }).toEqual(["missed, st 16", "fl 24"])
    await page.keyboard.press("Control+z")
    await page.getByText("Undone: 1 strike removed.").waitFor()
    await expect.poll(came, { timeout: 20_000 }).toEqual(["missed, st 16, fl 24", "fl 24"])
    await page.keyboard.press("Control+z")
    await page.getByText("Undone: 1 strike pasted.").waitFor()
    await expect.poll(came, { timeout: 20_000 }).toEqual(["missed, st 16", "fl 24"])
    expect(complaints).toEqual([])
  },
  150_000,
)

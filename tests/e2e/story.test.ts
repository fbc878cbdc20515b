import { existsSync, readdirSync, writeFileSync } from "node:fs"
import { join } from "node:path"
import { expect, test } from "vitest"
import { temporaryFolder } from "../unit/store/temporaryLogbook.ts"
import { noBrowser } from "./browser.ts"
import { startProduct } from "./product.ts"
import { openSample, openWindow, visit } from "./window.ts"

test.skipIf(noBrowser)(
  "a stranger opens the sample, asks, narrows the question, and takes the answer along",
  async () => {
    const { link, folder } = await startProduct()
    const { page, complaints } = await openWindow(link)
    await page.getByRole("heading", { name: "Keep the blank hours too" }).waitFor()
    await page.keyboard.press("Enter") // the sample is preselected
    await page.locator(".said").waitFor()
    expect(existsSync(join(folder, "sample.stintbook"))).toBe(true)
    expect(await page.locator(".said").textContent()).toMatch(/[Pp]er rod-hour|Cannot tell|Little in it/)
    await page.locator(".drawn svg").waitFor()
    expect(await page.getByRole("img").first().getAttribute("aria-label")).toMatch(
      /popping-cork rig: [\d.]+ \(/i,
    )

    await page.getByRole("button", { name: /What is counted/ }).click()
    await page.getByRole("option", { name: "hooks more of the strikes" }).click()
    await page
      .getByText(/of its strikes/i)
      .first()
      .waitFor()
    await page.getByRole("button", { name: /In which conditions/ }).click()
    await page.getByRole("option", { name: "light first light" }).click()
    await expect.poll(() => page.locator("aside").textContent()).toMatch(/stints/)

    const [saved] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "SVG" }).click(),
    ])
    expect(saved.suggestedFilename()).toBe("hook_up_share by lure_class.svg")
    const [table] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "CSV" }).click(),
    ])
    expect(table.suggestedFilename()).toBe("hook_up_share by lure_class.csv")
    expect(complaints).toEqual([])
  },
)

test.skipIf(noBrowser)(
  "a table comes in after a look, refused rows are told, and it can be taken back whole",
  async () => {
    const { link } = await startProduct()
    const { page, complaints } = await openWindow(link)
    await page.getByRole("button", { name: "New logbook" }).click()
    await page.getByRole("textbox", { name: "Name" }).fill("mine")
    await page.getByRole("button", { name: "Make it" }).click()
    await page.getByText("mine.stintbook, saved").waitFor()
    await visit(page, "#/files")
    const file = join(temporaryFolder(), "days.csv")
    writeFileSync(
      file,
      `trip,date,start,end,lure class,landed,strikes
A,2024-05-11,06:00,07:00,spoon,2,3
A,2024-05-11,07:00,08:00,popping-cork rig,0,0
B,2024-05-32,06:00,07:00,spoon,1,1
B,2024-05-12,06:00,07:00,spoon,many,1
`,
    )
    await page.getByLabel("Tables, station files or tracks").setInputFiles(file)
    await page.getByText(/would add 2 stints on 1 trip/).waitFor()
    expect(await page.getByRole("region", { name: "Preview" }).textContent()).toMatch(/2024-05-32/)
    const [mend] = await Promise.all([
      page.waitForEvent("download"),
      page.getByRole("button", { name: "Save them as a file to mend" }).click(),
    ])
    expect(mend.suggestedFilename()).toMatch(/\.csv$/)
    await page.getByRole("button", { name: "Bring it in" }).click()
    await page.getByText(/Added 2 stints on 1 trip/).waitFor()
    await page.getByRole("button", { name: "Take back" }).click()
    await page.getByText("taken back").waitFor()
    await visit(page, "#/logbook")
    await page.getByRole("heading", { name: "No trips yet" }).waitFor()
    expect(complaints).toEqual([])
  },
)

test.skipIf(noBrowser)(
  "a backup is made, listed and put back, and what was there before is kept",
  async () => {
    const { link, folder } = await startProduct()
    const { page, complaints } = await openWindow(link)
    await openSample(page)
    await visit(page, "#/files")
    await page.getByRole("button", { name: "Back up now" }).click()
    await page.getByText("Backed up.").waitFor()
    await page.getByRole("button", { name: "Restore" }).first().click()
    await page.getByText(/Restored\. What was there before is kept as/).waitFor()
    expect(readdirSync(folder).filter((name) => name.endsWith(".stintbook")).length).toBeGreaterThanOrEqual(2)
    expect(complaints).toEqual([])
  },
)

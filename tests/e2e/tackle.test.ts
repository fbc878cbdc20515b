import { expect, test } from "vitest"
import { noBrowser } from "./browser.ts"
import { startProduct } from "./product.ts"
import { expectAccessible, openWindow, visit } from "./window.ts"

async function openNew() {
  const { link } = await startProduct()
  const { page, complaints } = await openWindow(link, { locale: "en-US" })
  await page.getByRole("button", { name: "New logbook" }).click()
  await page.keyboard.press("Enter")
  await page.getByText("my logbook.stintbook, saved").waitFor()
  return { page, complaints }
}

test.skipIf(noBrowser)(
  "a presentation is typed in one line, read back, copied with a change, coded and retired, all by keys",
  async () => {
    const { page, complaints } = await openNew()
    await page.keyboard.press("Alt+2")
    await page.getByText("Nothing tied on yet.").waitFor()
    await page.keyboard.type("soft plastic, paddle tail, 1/4 oz, short shank, hop, dark")
    await page
      .getByText("soft plastic on a jig head, paddle tail, dark; 1/4 oz head, short shank; mid-column hop")
      .waitFor()
    await page.keyboard.press("Enter")
    const row = page.getByRole("row", { name: /paddle tail, dark, 1\/4 oz/ })
    await row.waitFor()
    expect(await row.textContent()).toContain("pt")
    await page.keyboard.press("Tab")
    await row.focus()
    await page.keyboard.press("c")
    await page.keyboard.type("natural, flurble")
    await page.getByText("flurble is not known. Say what it is, or take it out.").waitFor()
    for (const _ of "flurble") await page.keyboard.press("Backspace")
    await page.keyboard.press("Enter")
    await page.getByRole("row", { name: /paddle tail, natural, 1\/4 oz/ }).waitFor()
    const code = page.getByLabel("Code")
    await code.first().fill("pt")
    await page.keyboard.press("Enter")
    await page.getByText(/is the code of the presentation paddle tail, dark/).waitFor()
    // What was typed stays until it is mended.
    expect(await code.first().inputValue()).toBe("pt")
    await page.keyboard.press("Escape")
    await row.focus()
    await page.keyboard.press("r")
    await page.getByText("Retired", { exact: true }).waitFor()
    await page.getByText("1 presentation of 1 lure class, 1 retired.").waitFor()
    expect(complaints).toEqual([])
  },
)

test.skipIf(noBrowser)(
  "a rig is opened, changed part by part, copied with a change and retired, by keys",
  async () => {
    const { page, complaints } = await openNew()
    await page.keyboard.press("Alt+2")
    await page.getByText("Nothing tied on yet.").waitFor()
    await page.keyboard.type("soft plastic, paddle tail, 1/4 oz, short shank, hop, dark")
    await page.keyboard.press("Enter")
    await page.getByRole("row", { name: /paddle tail, dark, 1\/4 oz/ }).waitFor()
    await page.getByRole("button", { name: "Rigs (1)" }).focus()
    await page.keyboard.press("Enter")
    await page.getByRole("button", { name: /^1\/4 oz head, short shank/ }).focus()
    await page.keyboard.press("Enter")
    await page.getByText("No stint of a closed, complete trip tells of it yet.").nth(1).waitFor()
    const weight = page.getByLabel("Head weight")
    expect(await weight.inputValue()).toBe("1/4 oz")
    await weight.focus()
    await page.keyboard.press("Control+a")
    await page.keyboard.type("heavy")
    await page.keyboard.press("Enter")
    await page.getByText("Head weight: not a number: heavy.").waitFor()
    expect(await weight.inputValue()).toBe("heavy")
    await page.keyboard.press("Control+a")
    await page.keyboard.type("3/8")
    await page.keyboard.press("Enter")
    await page.getByRole("button", { name: /^3\/8 oz head, short shank/ }).waitFor()
    await expectAccessible(page, "an open rig")
    await page.getByRole("button", { name: "Copy and change" }).last().focus()
    await page.keyboard.press("Enter")
    await page.keyboard.type("1/2 oz")
    await page
      .getByText(/1\/2 oz head, short shank; mid-column hop/)
      .first()
      .waitFor()
    await page.keyboard.press("Enter")
    await page.getByRole("button", { name: "Rigs (2)" }).waitFor()
    await page.getByRole("button", { name: "Retire with its presentation" }).focus()
    await page.keyboard.press("Enter")
    await page.getByText("1 presentation of 1 lure class, 1 retired.").waitFor()
    await page.getByRole("button", { name: "Bring its presentations back" }).waitFor()
    expect(complaints).toEqual([])
  },
)

test.skipIf(noBrowser)("a measured sink is counted down, and the price of lost lures added up", async () => {
  const { page, complaints } = await openNew()
  await visit(page, "#/tackle")
  await page.getByLabel("New presentation, in one line").fill("spoon, 1/2 oz, steady")
  await page.keyboard.press("Enter")
  await page.getByLabel("Seconds").fill("4")
  await page.keyboard.press("Enter")
  await page.getByLabel("Depth, ft").fill("8")
  await page.keyboard.press("Enter")
  await page
    .getByText("Count 1.0 for 2 ft, 2.0 for 4 ft, 3.0 for 6 ft, 4.0 for 8 ft, 6.0 for 12 ft.")
    .waitFor()
  await page.getByLabel(/^Price of/).fill("6.5")
  await page.getByLabel("Seconds").focus()
  await expect.poll(() => page.getByLabel(/^Price of/).inputValue()).toBe("6.50")
  expect(complaints).toEqual([])
})

test.skipIf(noBrowser)(
  "a spot gets its station, its lags and its note, and its place on the map",
  async () => {
    const { page, complaints } = await openNew()
    await page.keyboard.press("Alt+3")
    await page.getByText(/No spot yet/).waitFor()
    await page.keyboard.press("n")
    await page.keyboard.type("Mill Drain")
    await page.keyboard.press("Tab")
    await page.keyboard.type("31 23.4 N 81 17.28 W")
    await page.getByRole("button", { name: /Keep it as md/ }).waitFor()
    await page.keyboard.press("Enter")
    await page.locator(".spot-map svg path").first().waitFor()
    await page.getByText(/It stands for the place/).waitFor()
    await page.getByLabel("High later by, min").fill("soon")
    await page.keyboard.press("Enter")
    await page.getByText("soon is not a number of minutes.").waitFor()
    await page.getByLabel("High later by, min").fill("14")
    // Clicking elsewhere keeps it.
    await page.getByLabel("Private note").click()
    await page.keyboard.type("keep off the dock")
    await page.getByLabel("Ground").click()
    await page.keyboard.type("mud")
    await page.keyboard.press("Enter")
    await visit(page, "#/tackle")
    await visit(page, "#/spots")
    await page.getByLabel("High later by, min").waitFor()
    for (const [label, kept] of [
      ["High later by, min", "14"],
      ["Private note", "keep off the dock"],
      ["Ground", "mud"],
    ] as const)
      await expect.poll(() => page.getByLabel(label).inputValue()).toBe(kept)
    expect(complaints).toEqual([])
  },
)

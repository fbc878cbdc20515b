import { expect, test } from "vitest"
import { noBrowser } from "./browser.ts"
import { startProduct } from "./product.ts"
import { expectAccessible, openSample, openWindow } from "./window.ts"

test.skipIf(noBrowser)(
  "the answer as fished is followed by the fair one; what it depends on, and how long to wait, are asked on the same page; a question is kept and asked again",
  async () => {
    const { link } = await startProduct()
    const { page, complaints } = await openWindow(link)
    await openSample(page, "keyboard")
    await page.getByRole("heading", { name: "Side by side" }).waitFor({ timeout: 90_000 })
    const aside = page.locator("aside")
    expect(await aside.textContent()).toMatch(/At the same stops.*Leads\./)
    expect(await aside.textContent()).toMatch(/Season, light, tide, water temperature, angler/)

    await page.getByRole("button", { name: "Where the two met, and where not" }).click()
    await page.getByRole("region", { name: /Where the two were fished, in rod-hours/ }).waitFor()
    await page.getByRole("button", { name: "Show the working" }).click()
    await page.getByRole("img", { name: /Stints by their fish, on a root scale/ }).waitFor()
    await expectAccessible(page, "an answer with its working")
    expect(await aside.textContent()).toMatch(/To tell a difference of 1\.3 times .*fastest/)
    await page.getByRole("button", { name: /Difference worth having/ }).click()
    await page.getByRole("option", { name: "twice as much" }).click()
    await page.getByText(/a difference of 2\.0 times/).waitFor()

    await page.getByRole("button", { name: /Compared by/ }).click()
    await page.getByRole("option", { name: "pause", exact: true }).click()
    await page.getByRole("button", { name: /Depending on what/ }).click()
    await page.getByRole("option", { name: "water temperature", exact: true }).click()
    await page.getByText(/It depends on water temperature/).waitFor()
    await page.getByRole("img", { name: /by pause and water temperature/ }).waitFor()
    await expectAccessible(page, "an answer that depends")

    await page.getByRole("button", { name: "Keep this question" }).click()
    await page.getByRole("textbox", { name: "Name" }).fill("Pauses in cold water")
    await page.getByRole("button", { name: "Keep the question and its answer" }).click()
    await page.getByText(/Pauses in cold water: kept its first answer/).waitFor()
    await page.getByRole("button", { name: "Ask Pauses in cold water again" }).click()
    await page.getByText(/Since .*, on as many trips/).waitFor()

    await page.getByRole("button", { name: /Which question/ }).click()
    await page.getByRole("option", { name: "From look to landed:" }).click()
    await page.getByRole("img", { name: /From look to landed: each step per rod-hour/ }).waitFor()
    await expectAccessible(page, "from look to landed")
    await page.getByRole("button", { name: /Which question/ }).click()
    await page.getByRole("option", { name: "How long to give it:" }).click()
    await page.getByRole("img", { name: /Chance of a first strike/ }).waitFor()
    await expectAccessible(page, "how long to wait")
    expect(complaints).toEqual([])
  },
  180_000, // four axe audits and a dozen answers, on a machine that may be busy
)

test.skipIf(noBrowser)(
  "a changed question is followed by its own answers only: as fished, then the fair one; words asked quickly one after the other end at the last",
  async () => {
    const { link } = await startProduct()
    const { page, complaints } = await openWindow(link)
    await openSample(page)
    await page.getByRole("heading", { name: "Side by side" }).waitFor({ timeout: 90_000 })
    await page.evaluate(() => {
      const now = () => document.querySelector(".said")?.textContent ?? ""
      document.body.dataset["told"] = now()
      new MutationObserver(() => {
        const said = now()
        const told = (document.body.dataset["told"] ?? "").split("\n")
        if (told.at(-1) !== said) document.body.dataset["told"] = [...told, said].join("\n")
      }).observe(document.querySelector("main") ?? document, {
        subtree: true,
        childList: true,
        characterData: true,
      })
    })
    const told = async () =>
      ((await page.locator("body").getAttribute("data-told")) ?? "").split("\n").slice(1)
    const choose = async (word: RegExp, option: string) => {
      await page.getByRole("button", { name: word }).click()
      await page.getByRole("option", { name: option, exact: true }).click()
    }
    const compared = () => page.getByRole("progressbar").waitFor({ state: "detached", timeout: 60_000 })
    await choose(/Compared by/, "pause")
    await page
      .getByText(/Pause:/)
      .first()
      .waitFor()
    await compared()
    const [asFished, fair, ...more] = await told()
    expect(asFished).toMatch(/[Pp]ause:/)
    expect(asFished).not.toMatch(/same stops|same trips|other things/)
    expect(fair).toMatch(/At the same stops, pause:|In the same trips, pause:/)
    expect(more).toEqual([])

    // Each is asked before the fair comparison of the one before can have come.
    await choose(/Compared by/, "light")
    await choose(/What is counted/, "draws more strikes")
    await choose(/What is counted/, "hooks more of the strikes")
    await page
      .getByText(/hook-up/)
      .first()
      .waitFor()
    await compared()
    const later = (await told()).slice(2)
    for (const sentence of later) expect(sentence).toMatch(/[Ll]ight:/)
    expect(later.at(-1)).toMatch(/hook/)
    // One chart, of the levels and in the shares of the last question.
    const chart = page.getByRole("img", { name: /^Share of strikes hooked/ })
    expect(await chart.locator("svg").count()).toBe(1)
    expect(await chart.locator("svg").textContent()).toMatch(/first light.*%|%.*first light/)
    expect(complaints).toEqual([])
  },
  120_000, // four fits, on a machine that may be busy
)

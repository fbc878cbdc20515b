import type { Page } from "playwright-core"
import { median } from "simple-statistics"

/** The word of the question's sentence that is changed, and what to. All are new to the logbook: answers are kept. */
type Step = readonly [word: RegExp, option: string]
const unhurried: readonly Step[] = [
  [/What is counted/, "draws more strikes"],
  [/Compared by/, "tide"],
  [/What is counted/, "hooks more of the strikes"],
  [/Compared by/, "pause"],
  [/In which conditions/, "tide rising"],
]
const hurried: readonly Step[] = [
  [/What is counted/, "lands more of the hooked"],
  [/Compared by/, "angler"],
  [/What is counted/, "lands more"],
  [/Compared by/, "water temperature"],
  [/What is counted/, "draws more strikes"],
]

/** Milliseconds, medians. */
export type Painted = {
  /** Asked while nothing else is under way. */
  readonly unhurried: number
  /** Asked as soon as the answer before is painted as fished, while its fair comparison is still worked out. */
  readonly hurried: number
}

/**
 * How long changed questions on the page "What produces" take from the release of the mouse until their own answer's sentence
 * and chart are painted, by the page's clock. The page must show an answer.
 */
export async function benchQuestions(page: Page): Promise<Painted> {
  await compared(page)
  const calm: number[] = []
  for (const step of unhurried) {
    calm.push(await asked(page, step))
    await compared(page)
  }
  const quick: number[] = []
  for (const step of hurried) quick.push(await asked(page, step))
  await compared(page)
  return { unhurried: median(calm), hurried: median(quick) }
}

/** When the fair comparison is shown too. */
const compared = (page: Page): Promise<void> =>
  page.getByRole("progressbar").waitFor({ state: "detached", timeout: 60_000 })

async function asked(page: Page, [word, option]: Step): Promise<number> {
  await page.getByRole("button", { name: word }).click()
  const chosen = page.getByRole("option", { name: option, exact: true })
  await chosen.waitFor()
  return fromRelease(page, () => chosen.click(), {
    changing: [".said", ".beside svg"],
    late: "[aria-busy=true] .said",
  })
}

/** What a click that paints one word takes, measured in the same way. */
export async function oneWord(page: Page, rounds: number): Promise<number> {
  await page.evaluate(() => {
    const button = document.createElement("button")
    button.id = "word"
    button.textContent = "before"
    button.addEventListener("click", () => (button.textContent = String(performance.now())))
    document.body.prepend(button)
  })
  const times: number[] = []
  for (let round = 0; round < rounds; round++)
    times.push(
      await fromRelease(page, () => page.locator("#word").click(), { changing: ["#word"], late: ":not(*)" }),
    )
  await page.evaluate(() => document.getElementById("word")?.remove())
  return median(times)
}

/** What a click is for: all of `changing` are to be others than they were, and nothing of `late` to be there. */
type Wanted = { readonly changing: readonly string[]; readonly late: string }

/** From the release of the mouse in a click until what it was for is painted. */
async function fromRelease(page: Page, click: () => Promise<void>, awaited: Wanted): Promise<number> {
  const painted = page.evaluate(untilPainted, awaited)
  await click()
  return painted
}

/**
 * In the page: resolves with the time from the release to the end of the frame that paints it. It looks where something changed, and
 * not in every frame, which would have to be painted for it.
 */
function untilPainted({ changing, late }: Wanted): Promise<number> {
  const now = () => changing.map((one) => document.querySelector(one)?.innerHTML)
  const before = now()
  let released = Number.NaN
  addEventListener("pointerup", ({ timeStamp }) => (released = timeStamp), { once: true, capture: true })
  return new Promise((resolve) => {
    const watcher = new MutationObserver(() => {
      if (document.querySelector(late) !== null || now().some((html, i) => html === before[i])) return
      watcher.disconnect()
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel()
        port1.addEventListener("message", () => resolve(performance.now() - released), { once: true })
        port1.start()
        port2.postMessage(null)
      })
    })
    watcher.observe(document, { subtree: true, childList: true, characterData: true, attributes: true })
  })
}

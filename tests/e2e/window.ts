import AxeBuilder from "@axe-core/playwright"
import type { BrowserContextOptions, Page } from "playwright-core"
import { expect } from "vitest"
import { launchBrowser } from "./browser.ts"

/** A page of the product, and everything it complained of: console lines, errors, reports of the policy. */
export type Window = { readonly page: Page; readonly complaints: string[] }

/** Enters the product by its link, in a browser of its own. */
export async function openWindow(link: string, options: BrowserContextOptions = {}): Promise<Window> {
  const browser = await launchBrowser()
  const context = await browser.newContext({ viewport: { width: 1280, height: 860 }, ...options })
  const page = await context.newPage()
  const complaints: string[] = []
  page.on("console", (message) => complaints.push(`${message.type()}: ${message.text()}`))
  page.on("pageerror", (error) => complaints.push(`error: ${error.message}`))
  await page.addInitScript(() =>
    document.addEventListener("securitypolicyviolation", (event) =>
      console.error(`policy: ${event.violatedDirective} ${event.blockedURI}`),
    ),
  )
  await page.goto(link)
  return { page, complaints }
}

/** Opens the sample logbook from the first page, by the mouse or by the one key that it takes, and waits for its first answer. */
export async function openSample(page: Page, by: "mouse" | "keyboard" = "mouse"): Promise<void> {
  const button = page.getByRole("button", { name: "Open the sample logbook" })
  await button.waitFor()
  await (by === "mouse" ? button.click() : page.keyboard.press("Enter"))
  await page.locator(".said").waitFor()
}

/** Goes to a screen by its address. */
export async function visit(page: Page, hash: string): Promise<void> {
  await page.evaluate((to) => void (location.hash = to), hash)
}

/** Asserts that axe finds nothing to object to on the page as it is shown, by all of its rules or by those named. */
export async function expectAccessible(
  page: Page,
  what: string,
  rules: readonly string[] = [],
): Promise<void> {
  const axe = new AxeBuilder({ page })
  const { violations } = await (rules.length === 0 ? axe : axe.withRules([...rules])).analyze()
  const found = violations.map(
    ({ id, nodes }) => `${what}: ${id}: ${nodes.map(({ html }) => html).join(" | ")}`,
  )
  expect(found).toEqual([])
}

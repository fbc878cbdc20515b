import { chromium, type Browser } from "playwright-core"
import { onTestFinished } from "vitest"
import { findBrowser } from "../../electron/appWindow.ts"
import { thisSystem } from "../../electron/folders.ts"

const executablePath = findBrowser(thisSystem())
if (executablePath === null)
  console.log("Tests in a browser are skipped: no chromium, google-chrome or microsoft-edge is on the path.")

/** Whether tests that need a browser are to be skipped. */
export const noBrowser = executablePath === null

/** A browser without a screen that talks to nobody but the page's host; closed after the test, however that ends. */
export async function launchBrowser(): Promise<Browser> {
  if (executablePath === null) throw new Error("there is no browser")
  const browser = await chromium.launch({
    executablePath,
    args: [
      "--no-sandbox",
      "--disable-gpu",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  })
  onTestFinished(() => browser.close())
  return browser
}

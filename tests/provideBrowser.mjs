// A browser for the tests that need one: the machine's own, else Chromium from the system's packages where this user may
// install them. Where neither is to be had, those tests are skipped and counted, with the reason.
import { spawnSync } from "node:child_process"
import { existsSync } from "node:fs"
import { delimiter, join } from "node:path"

const names = ["chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "microsoft-edge"]
const packages = ["chromium", "xvfb", "xauth", "xdotool", "imagemagick"]
/** The package system may be held by another program for a while. */
const attempts = 5
const pauseMs = 5_000

const onPath = (/** @type {string} */ name) =>
  (process.env["PATH"] ?? "").split(delimiter).some((folder) => existsSync(join(folder, name)))

/** Makes sure of a browser, if it can. */
export function provideBrowser() {
  if (process.platform !== "linux" || names.some(onPath)) return
  if (process.getuid?.() !== 0 || !onPath("apt-get")) {
    console.log(
      "No browser is on the path, and this user may not install one: tests in a browser are skipped.",
    )
    return
  }
  console.log("Installing Chromium for the tests in a browser (once).")
  for (let attempt = 1; attempt <= attempts; attempt++) {
    /** @type {import("node:child_process").SpawnSyncOptions} */
    const quiet = { stdio: ["ignore", "ignore", "inherit"] }
    const updated = spawnSync("apt-get", ["update", "-qq"], quiet)
    const done = spawnSync("apt-get", ["install", "-y", "-qq", "--no-install-recommends", ...packages], quiet)
    if (updated.status === 0 && done.status === 0) return
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, pauseMs)
  }
  console.log("Chromium could not be installed: tests in a browser are skipped.")
}

import { spawn } from "node:child_process"
import { readFileSync, statSync } from "node:fs"
import { createInterface } from "node:readline"
import { delimiter, join } from "node:path"
import { expect, onTestFinished, test, vi } from "vitest"
import { noBrowser } from "./browser.ts"
import { startProduct } from "./product.ts"

const screenProgram = "Xvfb"
const noScreen = !(process.env["PATH"] ?? "")
  .split(delimiter)
  .some((folder) => statSync(join(folder, screenProgram), { throwIfNoEntry: false })?.isFile())
if (noScreen)
  console.log(`The test of a real window is skipped: no ${screenProgram} is on the path to show it on.`)

/** A screen that nobody sees, ended after the test; the name of its display. */
async function hiddenScreen(): Promise<string> {
  const screen = spawn(
    screenProgram,
    ["-displayfd", "3", "-screen", "0", "1280x860x24", "-nolisten", "tcp"],
    {
      stdio: ["ignore", "ignore", "ignore", "pipe"],
    },
  )
  onTestFinished(() => void screen.kill())
  const told = screen.stdio[3]
  if (told === null || told === undefined || !("read" in told)) throw new Error("no way to hear the display")
  for await (const line of createInterface({ input: told })) return `:${line}`
  throw new Error("the screen did not start")
}

test.skipIf(noBrowser || noScreen)(
  "a start opens an app window of the browser that is there; a later start opens another; both end with the host",
  async () => {
    const env = { ...process.env, DISPLAY: await hiddenScreen() }
    const first = await startProduct({ show: "--browser", env })
    const log = (): string => readFileSync(join(first.config, "stintbook.log"), "utf8")
    await vi.waitFor(() => expect(log()).toMatch(/window opened, 1 open/), { timeout: 30_000 })
    const { folder, config } = first
    const second = spawn(
      process.execPath,
      [
        join(import.meta.dirname, "../../electron/start.ts"),
        "--browser",
        `--folder=${folder}`,
        `--config=${config}`,
      ],
      { env, stdio: "ignore" },
    )
    expect(await new Promise((resolve) => second.on("close", resolve))).toBe(0)
    await vi.waitFor(() => expect(log()).toMatch(/window opened, 2 open/), { timeout: 30_000 })
    first.host.kill("SIGTERM")
    expect(await first.ended).toBe(0)
    expect(log()).toMatch(/host ended\n$/)
  },
)

import { execFileSync, spawn } from "node:child_process"
import { readFileSync, statSync } from "node:fs"
import { createInterface } from "node:readline"
import { delimiter, join } from "node:path"
import { expect, onTestFinished, test, vi } from "vitest"
import { temporaryFolder } from "../unit/store/temporaryLogbook.ts"
import { noBrowser } from "./browser.ts"
import { startProduct } from "./product.ts"

/** A screen nobody sees, hands for it, and eyes. */
const screenProgram = "Xvfb"
const needed = {
  [screenProgram]: "a hidden screen",
  xdotool: "keys and windows",
  import: "pictures of it (ImageMagick)",
}
const missing = Object.entries(needed).filter(
  ([program]) =>
    !(process.env["PATH"] ?? "")
      .split(delimiter)
      .some((folder) => statSync(join(folder, program), { throwIfNoEntry: false })?.isFile()),
)
if (missing.length > 0)
  console.log(
    `The tests of a real window are skipped: not on the path: ${missing.map(([program, what]) => `${program} for ${what}`).join(", ")}.`,
  )
const noDesktop = noBrowser || missing.length > 0

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

/** What one does at a screen, from outside of the browser. */
function atScreen(env: NodeJS.ProcessEnv) {
  const run = (program: string, args: readonly string[]): string =>
    execFileSync(program, args, { env, encoding: "utf8", stdio: ["ignore", "pipe", "ignore"] })
  return {
    /** Waits for a window with this title, as the window manager would show it. */
    window: (title: string): Promise<string> =>
      vi.waitFor(() => run("xdotool", ["search", "--onlyvisible", "--name", title]).trim(), {
        timeout: 40_000,
        interval: 300,
      }),
    /** Presses a key until the window of this title shows: one that comes before the page listens is lost. */
    lead: (window: string, key: string, title: string): Promise<string> =>
      vi.waitFor(
        async () => {
          run("xdotool", ["windowfocus", "--sync", window, "key", "--clearmodifiers", key])
          return vi.waitFor(() => run("xdotool", ["search", "--onlyvisible", "--name", title]).trim(), {
            timeout: 15_000,
            interval: 300,
          })
        },
        { timeout: 60_000, interval: 300 },
      ),
    /** How many colours the screen shows: one or two where nothing is drawn. */
    colours: (): number => {
      const picture = join(temporaryFolder(), "screen.png")
      run("import", ["-window", "root", picture])
      return Number(run("identify", ["-format", "%k", picture]))
    },
  }
}

test.skipIf(noDesktop)(
  "at a desktop: an app window opens, Enter opens the sample and its answer, keys lead on",
  async () => {
    const env = { ...process.env, DISPLAY: await hiddenScreen() }
    const desk = atScreen(env)
    await startProduct({ show: "--browser", env })
    const first = await desk.window("^Stintbook$")
    await vi.waitFor(() => expect(desk.colours()).toBeGreaterThan(50), { timeout: 20_000, interval: 500 })
    const answer = await desk.lead(first, "Return", "^What produces - sample\\.stintbook - Stintbook$")
    const logbook = await desk.lead(answer, "alt+1", "^Logbook - sample\\.stintbook - Stintbook$")
    await vi.waitFor(() => expect(desk.colours()).toBeGreaterThan(200), { timeout: 20_000, interval: 500 })
    await desk.lead(logbook, "F1", "^Help - sample\\.stintbook - Stintbook$")
  },
  240_000,
)

test.skipIf(noDesktop)(
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

// The program behind npm start: the Electron window where its runtime can be had, else the same product in a browser window.
import { spawn, type ChildProcess } from "node:child_process"
import { join } from "node:path"
import { ProblemError } from "../shared/problems.ts"
import { isSuperUser } from "./appWindow.ts"
import { runInBrowser } from "./browserHost.ts"
import { traceOf } from "./coreThread.ts"
import { electronRuntime } from "./fetchRuntime.ts"
import { thisSystem } from "./folders.ts"
import { buildHosts, pageBuilder } from "./setup.mjs"
import { readStart, type StartOptions } from "./startOptions.ts"

const root = join(import.meta.dirname, "..")
const pages = join(root, "dist", "renderer")
/** A window that ends sooner than this, and not well, never opened. */
const openedMs = 10_000
const say = (line: string): void => console.log(line)

/** Opens the product in the Electron window; its exit status, or null where the runtime is not to be had. */
async function runInElectron(options: StartOptions): Promise<number | null> {
  const { platform, env } = thisSystem()
  if (platform === "linux" && !env["DISPLAY"] && !env["WAYLAND_DISPLAY"]) return null
  const runtime = await electronRuntime(join(root, "node_modules", "electron"))
  if ("why" in runtime) {
    say(
      `The Electron runtime could not be had (${runtime.why}). Stintbook opens in a browser window instead; nothing else differs.`,
    )
    return null
  }
  buildHosts()
  const args = [
    join(root, "dist", "electron", "main.js"),
    ...(options.file === null ? [] : [options.file]),
    `--folder=${options.folder}`,
    `--config=${options.config}`,
    ...(platform === "linux" && isSuperUser() ? ["--no-sandbox"] : []),
  ]
  const begun = performance.now()
  const status = await ended(spawn(runtime.path, args, { stdio: "inherit" }))
  if (status === 0 || performance.now() - begun > openedMs) return status
  say("The Electron window did not open. Stintbook opens in a browser window instead; nothing else differs.")
  return null
}

function ended(child: ChildProcess): Promise<number> {
  return new Promise((resolve) => {
    child.on("error", () => resolve(1))
    // a signal is the user's own wish
    child.on("exit", (code) => resolve(code ?? 0))
  })
}

/** Opens the product in a browser window; while its code is worked on, the page is built anew at every edit. */
async function runWithBrowser(options: StartOptions): Promise<void> {
  const builder = options.dev
    ? spawn(process.execPath, [...pageBuilder, "--watch", "--logLevel=warn"], { cwd: root, stdio: "inherit" })
    : null
  try {
    await runInBrowser(options, pages, say)
  } finally {
    builder?.kill()
  }
}

try {
  const options = readStart(process.argv.slice(2), process.env["INIT_CWD"] ?? process.cwd(), thisSystem())
  const status = options.show === "window" ? await runInElectron(options) : null
  if (status === null) await runWithBrowser(options)
  else process.exitCode = status
} catch (error) {
  console.error(
    error instanceof ProblemError ? error.message : `Stintbook could not start: ${traceOf(error)}`,
  )
  process.exitCode = error instanceof ProblemError ? 2 : 1
}

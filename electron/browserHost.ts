import type { ChildProcess } from "node:child_process"
import { join } from "node:path"
import { findOpener, openWindow, profileFolder } from "./appWindow.ts"
import { startCore, traceOf, type CoreThread } from "./coreThread.ts"
import { devReload } from "./devReload.ts"
import { askFirst, claim } from "./firstStart.ts"
import { thisSystem } from "./folders.ts"
import { openLog, type Log } from "./log.ts"
import { startLoopback, type Loopback } from "./loopback.ts"
import type { StartOptions } from "./startOptions.ts"

const root = join(import.meta.dirname, "..")
const coreProgram = new URL("../core/worker.ts", import.meta.url)
/** A reload is back within a second; a slow machine has five. */
const lingerMs = 5000

/**
 * Runs the product in a browser window until its last window closes or the terminal ends it. `pages` is the folder of the
 * built page; `say` prints a line for the user. Where a host already runs, that one gets another window instead.
 */
export async function runInBrowser(
  options: StartOptions,
  pages: string,
  say: (line: string) => void,
): Promise<void> {
  const link = await askFirst(options.config, { file: options.file })
  if (link !== null) {
    say("Stintbook is open already; this opens another window of it.")
    show(link, options, say)
    return
  }
  const log = openLog(options.config)
  const core = startCore(
    coreProgram,
    { folder: options.folder, config: options.config, open: options.file },
    log,
  )
  process.on("uncaughtExceptionMonitor", (error) => log.write(`host: ${traceOf(error)}`))
  const dev = options.dev ? devReload(root, pages, core) : null
  try {
    await serveUntilEnd(options, pages, say, log, core, dev?.extraFile)
  } finally {
    dev?.stop()
    await core.close()
    log.write("host ended")
  }
}

async function serveUntilEnd(
  options: StartOptions,
  pages: string,
  say: (line: string) => void,
  log: Log,
  core: CoreThread,
  extraFile: Parameters<typeof startLoopback>[0]["extraFile"],
): Promise<void> {
  const end = Promise.withResolvers<void>()
  const host = await startLoopback({
    pages,
    core,
    log,
    lingerMs,
    lastWindowClosed: end.resolve,
    startedAgain: (file) => {
      if (file !== null) void core.open(file)
    },
    ...(extraFile === undefined ? {} : { extraFile }),
  })
  log.write(`host started, Node ${process.versions.node} on ${process.platform} ${process.arch}`)
  const release = claim(options.config, { port: host.port, secret: host.secret })
  // a terminal's Ctrl-C comes twice, from it and from npm: both mean this one end
  for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.on(signal, () => end.resolve())
  const window = showFirst(host, options, say)
  try {
    await end.promise
  } finally {
    release?.()
    await host.close()
    window?.kill()
  }
}

/** Opens the first window and says how to get one where none appears. */
function showFirst(host: Loopback, options: StartOptions, say: (line: string) => void): ChildProcess | null {
  const window = show(host.newLink(), options, say)
  if (window !== null) say(`If no window opens, go to this address; it works once:\n  ${host.newLink()}`)
  return window
}

/** Opens a window on a link, or says the link where there is nothing to open it with. */
function show(link: string, options: StartOptions, say: (line: string) => void): ChildProcess | null {
  const byHand = (): void => say(`Open this address in a browser on this computer; it works once:\n  ${link}`)
  const opener = options.show === "none" ? null : findOpener(thisSystem())
  if (opener === null) {
    byHand()
    return null
  }
  return openWindow(opener, link, profileFolder(opener, options.config, thisSystem().home), byHand)
}

import { MessageChannel, Worker, type MessagePort } from "node:worker_threads"
import type { Envelope } from "../shared/rpc.ts"
import type { Log } from "./log.ts"

/** What the core is told at its start; paths stay on this side of every page. */
export type CoreStart = {
  /** The one logbook folder. */
  readonly folder: string
  /** Where recent files, preferences and the log are. */
  readonly config: string
  /** A logbook named at the start, or null. */
  readonly open: string | null
}

/** One window's own way to the core. */
export type CoreLine = {
  send(message: Envelope): void
  close(): void
}

export type CoreThread = {
  /** A line of its own: answers to one window never reach another. */
  connect(deliver: (message: Envelope) => void): CoreLine
  /** Starts the thread again with a logbook named at a later start; paths reach the core in no other way. */
  open(file: string): Promise<void>
  /** Ends the thread and starts it again, as when its code was edited. */
  restart(): Promise<void>
  close(): Promise<void>
}

/** How long a thread that is asked to close its logbook is waited for; it may still be starting. */
const endingMs = 5_000

/** After so many deaths within a minute it is not started again. */
const mostDeaths = 3
const deathsWithinMs = 60_000

/** Tells every window that what it waits for will not come; the id 0 belongs to no call. */
const stopped = (message: string, id = 0): Envelope => ({
  t: "problem",
  id,
  problem: { code: "internal", message, details: {} },
})
const startedAgain =
  "The part of Stintbook that keeps the logbook stopped and was started again. Everything saved before is kept; do the last step again."
const keepsStopping =
  "The part of Stintbook that keeps the logbook stops again and again. What was saved is safe: close Stintbook, and look into its log before starting it again."
const openedAnother =
  "Another logbook was opened from outside this window. What was under way was not finished; do it again."
const edited = "The code was edited, and the part that keeps the logbook started again."

/** What the thread tells its host: a line for the log, or that its logbook is closed. */
type ToldByCore = { readonly log: string } | { readonly ended: true }

type Connected = { readonly deliver: (message: Envelope) => void; port: MessagePort | null }

/**
 * Keeps the core in a thread of its own (`worker` is its program, as source or bundled) and passes envelopes on without
 * reading them. When the thread dies, every window hears one problem with the id 0 and the thread is started again.
 */
export function startCore(worker: URL, start: CoreStart, log: Log): CoreThread {
  const lines = new Set<Connected>()
  let told = start
  let deaths: readonly number[] = []
  let thread: Worker | null = run()

  function run(): Worker {
    const started = new Worker(worker, { workerData: told })
    started.on("message", (message: ToldByCore) => {
      if ("log" in message) log.write(message.log)
    })
    started.on("error", (error: unknown) => log.write(`core: ${traceOf(error)}`))
    started.on("exit", (status) => {
      if (thread === started) died(status)
    })
    return started
  }

  function died(status: number): void {
    log.write(`core ended with status ${status}`)
    const now = Date.now()
    deaths = [...deaths.filter((at) => now - at < deathsWithinMs), now]
    thread = deaths.length > mostDeaths ? null : run()
    replug(thread === null ? keepsStopping : startedAgain)
  }

  /** Gives every window a new channel into the thread that runs now, and says why. */
  function replug(why: string): void {
    for (const line of lines) {
      plug(line)
      line.deliver(stopped(why))
    }
  }

  function plug(line: Connected): void {
    line.port?.close()
    line.port = null
    if (thread === null) return
    const { port1, port2 } = new MessageChannel()
    port1.on("message", (message: Envelope) => line.deliver(message))
    thread.postMessage({ connect: port2 }, [port2])
    line.port = port1
  }

  async function restart(why: string): Promise<void> {
    const old = thread
    thread = null
    await old?.terminate()
    thread = run()
    replug(why)
  }

  return {
    connect: (deliver) => {
      const line: Connected = { deliver, port: null }
      lines.add(line)
      plug(line)
      if (thread === null) deliver(stopped(keepsStopping))
      return {
        send: (message) => {
          if (line.port === null) deliver(stopped(keepsStopping, "id" in message ? message.id : 0))
          else line.port.postMessage(message)
        },
        close: () => {
          lines.delete(line)
          line.port?.close()
          line.port = null
        },
      }
    },
    open: (file) => {
      told = { ...told, open: file }
      return restart(openedAnother)
    },
    restart: () => restart(edited),
    close: async () => {
      const old = thread
      thread = null
      for (const line of lines) line.port?.close()
      lines.clear()
      if (old !== null) await ended(old)
    },
  }
}

/**
 * Lets a thread close its logbook, so that no lock is left, and ends it then, or where that takes too long. Only this side ends
 * it: threads that left by themselves while they were being ended brought the whole process down now and then (Node 24).
 */
async function ended(thread: Worker): Promise<void> {
  const closed = new Promise<void>((resolve) => {
    thread.on("message", (message: ToldByCore) => {
      if ("ended" in message) resolve()
    })
    thread.once("exit", () => resolve())
  })
  thread.postMessage({ end: true })
  let late: NodeJS.Timeout | undefined
  await Promise.race([closed, new Promise((resolve) => (late = setTimeout(resolve, endingMs)))])
  clearTimeout(late)
  await thread.terminate()
}

/** What went wrong, for the log. */
export function traceOf(error: unknown): string {
  return error instanceof Error ? (error.stack ?? error.message) : String(error)
}

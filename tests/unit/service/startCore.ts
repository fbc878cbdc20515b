import { MessageChannel, Worker } from "node:worker_threads"
import { onTestFinished } from "vitest"
import type { DeskStart } from "../../../core/service/desk.ts"
import { connect, type Client, type Envelope } from "../../../shared/rpc.ts"
import { temporaryFolder } from "../store/temporaryLogbook.ts"

/** A window's end of the core: its client, and every envelope that came. */
export type Window = { readonly client: Client; readonly heard: Envelope[] }

/** The real core in a thread of its own, as a host starts it. `logged` is what it gives to the host's log. */
export type Core = {
  readonly start: DeskStart
  readonly logged: string[]
  readonly worker: Worker
  readonly window: () => Window
}

/** Starts the core on a new folder with a new config folder, where none are given, with nothing open. */
export function startCore(wanted: Partial<DeskStart> = {}): Core {
  const start = { folder: temporaryFolder(), config: temporaryFolder(), open: null, ...wanted }
  const worker = new Worker(new URL("../../../core/worker.ts", import.meta.url), { workerData: start })
  const logged: string[] = []
  worker.on("message", (message: { log: string }) => logged.push(message.log))
  onTestFinished(async () => void (await worker.terminate()))
  return {
    start,
    logged,
    worker,
    window: () => {
      const { port1, port2 } = new MessageChannel()
      worker.postMessage({ connect: port2 }, [port2])
      const heard: Envelope[] = []
      port1.on("message", (message: Envelope) => heard.push(message))
      const client = connect({
        send: (message) => port1.postMessage(message),
        hear: (listener) => {
          port1.on("message", listener)
          return () => port1.off("message", listener)
        },
      })
      onTestFinished(() => {
        client.close()
        port1.close()
      })
      return { client, heard }
    },
  }
}

/** The core with a new logbook open, and a window on it. */
export async function startWithBook(name = "a"): Promise<Core & Window> {
  const core = startCore()
  const window = core.window()
  await window.client.call("desk.new", { name })
  return { ...core, ...window }
}

/** A table as a window sends it. */
export const named = (name: string, text: string): { name: string; bytes: Uint8Array } => ({
  name,
  bytes: new TextEncoder().encode(text),
})

/** Waits for something that another thread or process does, looking again and again; throws after ten seconds. */
export async function until<T>(look: () => T | null | Promise<T | null>): Promise<T> {
  for (let i = 0; i < 500; i++) {
    const found = await look()
    if (found !== null) return found
    await new Promise((resolve) => setTimeout(resolve, 20))
  }
  throw new Error("it did not happen within ten seconds")
}
